// The unit suffixes a name may end in. A unit stands last, after any Min, Max or Mean of the quantity.

const temperatures = ['C', 'K', 'CPerMin', 'KPerMin', 'KPerS', 'PerK'];
const durations = ['Ms', 'S', 'Min', 'Days', 'MsPerMin', 'MsPerS', 'MsPerDay', 'SPerMin', 'MinPerDay'];
const frequencies = ['PerS', 'PerMin'];
const lengths = ['M', 'Mm', 'Cm', 'M2', 'MPerMm', 'M2PerS'];
const masses = ['G', 'GPerM3', 'KgPerM3'];
const amounts = ['Pct', 'Ppm', 'Pa'];
const energies = ['JPerMol', 'KJPerMol', 'JPerMolK', 'JPerKg', 'KJPerKg', 'JPerKgK', 'JPerM2', 'JPerM2K'];
const heatFlows = ['WPerM2', 'WPerMK', 'WPerM2K'];
const screensAndWires = ['Px', 'Bytes'];

export const unitSuffixes: readonly string[] = [
  ...temperatures,
  ...durations,
  ...frequencies,
  ...lengths,
  ...masses,
  ...amounts,
  ...energies,
  ...heatFlows,
  ...screensAndWires,
];
