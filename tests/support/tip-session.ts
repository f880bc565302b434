/** A session without pole or correction: EPSG:2049, positions at the tip, one base; `more` stands after the system. */
export function tipSession(more = ''): string {
  return `version = 1
[system]
grid = "EPSG:2049"
${more}[rover]
reference_point = "tip"
[[base]]
id = "B1"
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }
sigma_horizontal_m = 0.01
sigma_vertical_m = 0.02
`;
}
