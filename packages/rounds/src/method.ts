/** Kept with every plan: a plan made by another version need not come out the same. */
export const methodVersion = 'rounds-1'
