/** Colours of bay components, in turn: custom properties of the theme without their dashes. They stay apart under colour-blind eyes. */
export const toneNames = Array.from({ length: 12 }, (_, i) => `scan-${i + 1}`);

/** Which of them the component of that place has; the thirteenth has the first one's again. */
export const toneOf = (place: number): number => place % toneNames.length;
