/** Chance that any measured observation of a clean network fails its test; shared evenly over them. */
export const NETWORK_OBSERVATIONS_LEVEL = 0.01;
/** Chance that any control point of a clean network fails its test; shared evenly over them. */
export const NETWORK_CONTROL_LEVEL = 0.01;
/** Chance that the sum of squares of a clean network is called too large or too small; half on each side. Common practice. */
export const NETWORK_GLOBAL_LEVEL = 0.05;
/** Power with which the smallest detectable bias of an observation is found. */
export const DETECTION_POWER = 0.8;
/** Chance that a network without distortions keeps one of those looked for; shared evenly over all that could show. */
export const NETWORK_DISTORTIONS_LEVEL = 0.01;
/** From here on the correlation of a distortion with the height of a base is said: they can hardly be told apart. Common practice. */
export const NEARLY_ALIKE = 0.9;
