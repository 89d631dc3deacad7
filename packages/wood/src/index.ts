/** Inside the stem: what readings into wood say, and what they leave open. */
export type * from './section/types.ts'
