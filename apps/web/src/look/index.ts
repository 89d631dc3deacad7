/** The pieces every page is made of. */
export { startColours } from './colours.ts'
export { Emblem } from './Emblem.tsx'
export { Answers, type Choice, Field, NumberField, refusalAt, Select, Tick, Words } from './Fields.tsx'
export { Dialog, Facts, Leaf, Plate, Reasons } from './Frames.tsx'
export { type Ground, type GroundWish, startGround, useGround, useGroundWish, wishGround } from './ground.ts'
export { Fills, RiskLabel, riskRank, riskWordOf } from './MarkPictures.tsx'
export { Button, LinkButton } from './Press.tsx'
export {
  Empty,
  ErrorNote,
  KeepingState,
  Loading,
  Notice,
  Refusals,
  Standing,
  standingSentence,
} from './States.tsx'
export {
  capital,
  count,
  monthName,
  sayDate,
  sayDay,
  sayLength,
  sayOrdinal,
  sayPeople,
  sayTime,
} from './words.ts'
