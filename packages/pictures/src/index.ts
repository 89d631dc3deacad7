/** Drawings: to scale, from data, the same on a screen and in a document. Nothing here reads a page, a clock or a file. */

export { compassWord } from './draw/say.ts'
// weeks and days
export { type DueFacts, type DueWeek, describeDue, dueCaption } from './due/data.ts'
export { type DueScale, dueScale } from './due/scale.ts'
export { DueStrip, type DueStripProps } from './due/strip.tsx'
// marks: what the map shows
export { type CellMarkSpec, cellTotal, describeCellMark } from './marks/cell.ts'
export { type CrewLine, type CrewTagSpec, crewLine, dashInWidths } from './marks/crews.ts'
export { type Keeping, keepingNames, keepings, type StepState, stepStateNames } from './marks/glyphs.ts'
export { type MarkSpec, markKey, markSvg } from './marks/mark.ts'
export { describeTreeMark, ringRadiiPx, type TreeMarkSpec } from './marks/tree.ts'
export {
  CrewLineSample,
  CrewWay,
  KeepingGlyph,
  Mark,
  StepGlyph,
  TreeMark,
  ZoneSwatch,
} from './marks/views.tsx'
export { zoneLines, zoneNames, zoneTilePx } from './marks/zones.ts'
// colours
export {
  type ColourToken,
  colourTokens,
  dayPalette,
  nightPalette,
  type Palette,
  sunPalette,
} from './palette/colours.ts'
export { colourCss } from './palette/css.ts'
export { cssPaint, type Paint, paintFrom, paintSvg, riskToken } from './palette/paint.ts'
export {
  describePlan,
  type Footprint,
  type PlanFacts,
  type PlanZone,
  planCaption,
} from './plan/describe-plan.ts'
export { describeRose, type RoseFacts, type RoseZone, roseCaption } from './plan/describe-rose.ts'
export { FallPlan } from './plan/plan.tsx'
export { FallRose } from './plan/rose.tsx'
export { describePortrait, type PortraitFacts, portraitCaption } from './portrait/describe.ts'
export { drawnOf } from './portrait/dimensions.ts'
export { type Frame, frameOf } from './portrait/frame.ts'
export { habitOf } from './portrait/habit.ts'
export { portraitSheet, TreePortrait } from './portrait/portrait.tsx'
export {
  type Habit,
  habits,
  type PortraitFinding,
  type PortraitTarget,
  type PortraitTree,
} from './portrait/types.ts'
// one rating, one visit
export { describeLooking, type LookedStep, LookingStrip, lookingCaption } from './rating/looking.tsx'
export {
  countSays,
  describeRange,
  type LogAxis,
  peopleAxis,
  RangeAxis,
  RangeBar,
  type RangeFacts,
  rangeCaption,
} from './rating/range.tsx'
export { describeWordPath, type RatedPath, WordPath } from './rating/word-path.tsx'
export {
  type DayFacts,
  DayLine,
  type DayStop,
  describeDay,
  type Hours,
  usualHours,
} from './rounds/day-line.tsx'
// inside the stem
export { type CoreFacts, CoreStrip, coreCaption, describeCore, readShare } from './wood/core.tsx'
export {
  describeSection,
  limitsWords,
  sectionCaption,
  sectionFormal,
  wallWords,
} from './wood/describe-section.ts'
export { type WoodFill, WoodKey, WoodSwatch, woodNames } from './wood/patterns.tsx'
export { StemSection } from './wood/section.tsx'
export { describeSounding, type SoundingFacts, SoundingRings, soundingCaption } from './wood/sounding.tsx'
export { describeStrengthRose, StrengthRose, strengthRoseCaption } from './wood/strength-rose.tsx'
export { describeTrace, TraceChart, type TraceFacts, traceCaption } from './wood/trace.tsx'
