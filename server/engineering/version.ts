/** Goes up when the same inputs may give another finding. A stored report names the version that made it. */
export const engineVersion = '3';

/** Goes up when a figure in a data file (polymers, materials, screws) changes. */
export const dataVersion = '3';
