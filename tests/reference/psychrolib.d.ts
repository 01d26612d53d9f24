// The part of the untyped library that the dew point is compared with.
declare module 'psychrolib' {
  const library: {
    readonly SI: unknown;
    SetUnitSystem(system: unknown): void;
    GetTDewPointFromRelHum(airC: number, humidityFraction: number): number;
  };
  export default library;
}
