/** Drawings: to scale, from data, the same on a screen and in a document. Nothing here reads a page, a clock or a file. */

// marks: what the map shows
export { type CellMarkSpec, cellTotal, describeCellMark } from './marks/cell.ts'
export { type CrewLine, type CrewTagSpec, crewLine, dashInWidths } from './marks/crews.ts'
export { type Keeping, keepingNames, keepings, type StepState, stepStateNames } from './marks/glyphs.ts'
export { type MarkSpec, markKey, markSvg } from './marks/mark.ts'
export { describeTreeMark, ringRadiiPx, type TreeMarkSpec } from './marks/tree.ts'
export { CrewLineSample, KeepingGlyph, Mark, StepGlyph, TreeMark, ZoneSwatch } from './marks/views.tsx'
export { zoneLines, zoneNames, zoneTilePx } from './marks/zones.ts'
// colours
export { type ColourToken, colourTokens, dayPalette, nightPalette, type Palette } from './palette/colours.ts'
export { colourCss } from './palette/css.ts'
export { cssPaint, type Paint, paintFrom, paintSvg, riskToken } from './palette/paint.ts'
