/** Places where a person is in the middle of something at a tree: there the program stays as it is, whatever version waits. */
export const isInHand = (path: string): boolean => /\/(visit|readings|walk-over)(\/|$)/.test(path)
