/** How far the box of an uploaded scan or part reaches from corner to corner, metres (own: a sensor boss to a whole car with margin). */
export const uploadSpan = { least: 0.02, greatest: 20 } as const;
