/**
 * Temperature at which a room's air begins to wet a surface, deg C: Magnus's form with 17.62 and 243.12 deg C.
 * Source: WMO-No. 8, Guide to Instruments and Methods of Observation: handbook value, from memory.
 *
 * @param humidityPercent relative, above 0
 */
export function dewPointC(roomC: number, humidityPercent: number): number {
  const log = Math.log(humidityPercent / 100) + (17.62 * roomC) / (243.12 + roomC);
  return (243.12 * log) / (17.62 - log);
}
