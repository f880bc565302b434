/** √(−2 ln 0.05): 95 % radius of a circular normal error in sigmas of one axis. */
export const HORIZONTAL_95 = 2.4477468306808166;

/** 97.5 % point of the normal distribution: 95 % half-interval in one dimension. */
export const VERTICAL_95 = 1.959963984540054;

/** 95 % point of chi-square with two degrees of freedom, −2 ln 0.05. */
export const CHI_SQUARE_2_95 = 5.991464547107982;
