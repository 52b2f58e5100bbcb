package zones

// Caution stands under every grouping.
const Caution = "Zones follow from the drawing and the supply as given. Valve places are proposals: have utilities marked before anyone digs, and keep valves where they can be reached. Local code and licensed practice decide on what lies before the backflow device."
