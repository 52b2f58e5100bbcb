// The unit conversions of the page, each once. The same numbers stand in
// internal/units, which says where they come from.

/** Metres in an international foot, exactly. */
export const METRES_A_FOOT = 0.3048;
export const FEET_A_METRE = 1 / METRES_A_FOOT;
/** Litres in a United States gallon, exactly. */
export const LITRES_A_GALLON = 3.785411784;
/** Bar in a pound per square inch. */
export const BAR_A_PSI = 0.0689475729;
/** Kilometres in a mile, exactly. */
export const KILOMETRES_A_MILE = 1.609344;
/** Centimetres in an inch, exactly. */
export const CM_AN_INCH = 2.54;
/** Millilitres in a United States fluid ounce, exactly. */
export const ML_A_FLUID_OUNCE = 29.5735295625;
