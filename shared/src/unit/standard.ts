// The units that are always there, each by its definition. Bases are m, kg, s, rad, K; every other row leans on rows above.
// Sources: inch, pound, standard gravity and standard atmosphere by international agreement; Btu of the steam tables (2326 J/kg
// is 1 Btu/lb); US gallon 231 in³, imperial gallon 4.54609 L; conventional columns: mercury 13595.1 kg/m³, water 1000 kg/m³.

/** symbol, amount (exact), in the unit, named type. */
export type Row = readonly [symbol: string, amount: string, unit: string, measure: string];

export const bases: readonly (readonly [symbol: string, measure: string])[] = [
  ['m', 'Length'],
  ['kg', 'Mass'],
  ['s', 'Time'],
  ['rad', 'Angle'],
  ['K', 'TemperatureDifference'],
];

export const rows: readonly Row[] = [
  // length
  ['mm', '1/1000', 'm', 'Length'],
  ['cm', '1/100', 'm', 'Length'],
  ['um', '1e-6', 'm', 'Length'],
  ['km', '1000', 'm', 'Length'],
  ['in', '25.4', 'mm', 'Length'],
  ['thou', '1/1000', 'in', 'Length'],
  ['uin', '1e-6', 'in', 'Length'],
  ['ft', '12', 'in', 'Length'],
  ['yd', '3', 'ft', 'Length'],
  ['mi', '5280', 'ft', 'Length'],
  // volume
  ['L', '1/1000', 'm^3', 'Volume'],
  ['mL', '1/1000', 'L', 'Volume'],
  ['cc', '1', 'cm^3', 'Volume'],
  ['gal', '231', 'in^3', 'Volume'],
  ['qt', '1/4', 'gal', 'Volume'],
  ['pt', '1/8', 'gal', 'Volume'],
  ['floz', '1/128', 'gal', 'Volume'],
  ['impgal', '4.54609', 'L', 'Volume'],
  // mass
  ['g', '1/1000', 'kg', 'Mass'],
  ['mg', '1/1000', 'g', 'Mass'],
  ['lb', '0.45359237', 'kg', 'Mass'],
  ['oz', '1/16', 'lb', 'Mass'],
  ['gr', '1/7000', 'lb', 'Mass'],
  // time
  ['ms', '1/1000', 's', 'Time'],
  ['min', '60', 's', 'Time'],
  ['h', '60', 'min', 'Time'],
  ['Hz', '1', '1/s', 'Frequency'],
  ['kHz', '1000', 'Hz', 'Frequency'],
  // force
  ['N', '1', 'kg*m/s^2', 'Force'],
  ['kN', '1000', 'N', 'Force'],
  ['kgf', '9.80665', 'N', 'Force'],
  ['lbf', '9.80665', 'lb*m/s^2', 'Force'],
  ['ozf', '1/16', 'lbf', 'Force'],
  ['slug', '1', 'lbf*s^2/ft', 'Mass'],
  // torque and unbalance
  ['ft-lbf', '1', 'ft*lbf', 'Torque'],
  ['in-lbf', '1', 'in*lbf', 'Torque'],
  ['ozf-in', '1', 'ozf*in', 'Torque'],
  ['oz-in', '1', 'oz*in', 'Unbalance'],
  // pressure
  ['Pa', '1', 'N/m^2', 'Pressure'],
  ['mPa', '1/1000', 'Pa', 'Pressure'],
  ['kPa', '1000', 'Pa', 'Pressure'],
  ['MPa', '1e6', 'Pa', 'Pressure'],
  ['GPa', '1e9', 'Pa', 'Pressure'],
  ['bar', '1e5', 'Pa', 'Pressure'],
  ['atm', '101325', 'Pa', 'Pressure'],
  ['torr', '1/760', 'atm', 'Pressure'],
  ['psi', '1', 'lbf/in^2', 'Pressure'],
  ['ksi', '1000', 'psi', 'Pressure'],
  ['mmHg', '133.322387415', 'Pa', 'Pressure'],
  ['inHg', '25.4', 'mmHg', 'Pressure'],
  ['inH2O', '249.08891', 'Pa', 'Pressure'],
  // energy and power
  ['J', '1', 'N*m', 'Energy'],
  ['kJ', '1000', 'J', 'Energy'],
  ['Btu', '1055.05585262', 'J', 'Energy'],
  ['W', '1', 'J/s', 'Power'],
  ['kW', '1000', 'W', 'Power'],
  ['hp', '550', 'ft*lbf/s', 'Power'],
  ['PS', '75', 'kgf*m/s', 'Power'],
  // viscosity
  ['P', '1/10', 'Pa*s', 'Viscosity'],
  ['cP', '1/100', 'P', 'Viscosity'],
  ['reyn', '1', 'psi*s', 'Viscosity'],
  ['St', '1', 'cm^2/s', 'KinematicViscosity'],
  ['cSt', '1/100', 'St', 'KinematicViscosity'],
  // flow and speed
  ['cfm', '1', 'ft^3/min', 'FlowRate'],
  ['mph', '1', 'mi/h', 'Speed'],
  // angle and turning
  ['rev', '2 pi', 'rad', 'Angle'],
  ['deg', '1/360', 'rev', 'Angle'],
  ['arcmin', '1/60', 'deg', 'Angle'],
  ['rpm', '1', 'rev/min', 'RotationalSpeed'],
  // temperature and number
  ['R', '5/9', 'K', 'TemperatureDifference'],
  ['%', '1/100', '1', 'Ratio'],
];

/** Temperatures on a scale: symbol, size of a degree in K, zero of the scale in K. */
export const scales: readonly (readonly [symbol: string, degree: string, zero: string])[] = [
  ['degC', '1', '273.15'],
  ['degF', '5/9', '45967/180'],
];

/** Products that the trade writes, offered beside the single units when a unit is to be chosen or is wrong. */
export const customaryProducts: readonly string[] = (
  'in^2 mm^2 cm^2 m^2 in^3 mm^3 cm^3 ft^3 m^3 N*m lbf/in N/mm N/m g*mm Pa*s mPa*s g/cm^3 kg/m^3 lb/in^3 ' +
  'm/s ft/s ft/min m/s^2 ft/s^2 rad/s L/min m^3/s 1/K um/m/K 1/R mm^2/s'
).split(' ');

/** What people write for a unit that has another name here. Suggested, never accepted. */
export const otherNames: ReadonlyMap<string, readonly string[]> = new Map([
  ['inch', ['in']],
  ['inches', ['in']],
  ['foot', ['ft']],
  ['feet', ['ft']],
  ['mil', ['thou']],
  ['mils', ['thou']],
  ['micron', ['um']],
  ['microns', ['um']],
  ['ci', ['in^3']],
  ['cid', ['in^3']],
  ['cuin', ['in^3']],
  ['ccm', ['cc']],
  ['litre', ['L']],
  ['liter', ['L']],
  ['gram', ['g']],
  ['grams', ['g']],
  ['gm', ['g']],
  ['lbs', ['lb', 'lbf']],
  ['pound', ['lb', 'lbf']],
  ['pounds', ['lb', 'lbf']],
  ['ounce', ['oz', 'ozf', 'floz']],
  ['newton', ['N']],
  ['ft-lb', ['ft-lbf']],
  ['lb-ft', ['ft-lbf']],
  ['lbf-ft', ['ft-lbf']],
  ['ftlb', ['ft-lbf']],
  ['ftlbs', ['ft-lbf']],
  ['ft-lbs', ['ft-lbf']],
  ['in-lb', ['in-lbf']],
  ['in-lbs', ['in-lbf']],
  ['lb-in', ['in-lbf']],
  ['lbf-in', ['in-lbf']],
  ['inlb', ['in-lbf']],
  ['inlbs', ['in-lbf']],
  ['in-oz', ['oz-in', 'ozf-in']],
  ['Nm', ['N*m']],
  ['kgm', ['kgf*m']],
  ['psia', ['psi']],
  ['psig', ['psi']],
  ['bhp', ['hp']],
  ['cv', ['PS']],
  ['degree', ['deg']],
  ['degrees', ['deg']],
  ['C', ['degC']],
  ['F', ['degF']],
  ['celsius', ['degC']],
  ['fahrenheit', ['degF']],
  ['kelvin', ['K']],
  ['sec', ['s']],
  ['second', ['s']],
  ['seconds', ['s']],
  ['hr', ['h']],
  ['hour', ['h']],
  ['minute', ['min']],
  ['minutes', ['min']],
  ['kph', ['km/h']],
  ['kmh', ['km/h']],
  ['gmm', ['g*mm']],
  ['percent', ['%']],
]);
