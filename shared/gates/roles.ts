/** Roles a person can hold in a project; one person may hold several. */
export const roles = ['lead', 'designer', 'scanner', 'printer', 'machinist', 'welder', 'reviewer'] as const;
/** A role a person holds in a project. */
export type Role = (typeof roles)[number];
