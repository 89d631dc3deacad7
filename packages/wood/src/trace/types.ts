import type { WoodSegment } from '@underbough/model'

/** Units of depth that a person may state. */
export type DepthUnit = 'mm' | 'cm' | 'in'

/** What stands between the cells of a row; `spaces` is any run of blanks. */
export type Delimiter = ',' | ';' | '\t' | '|' | 'spaces'

/** What can be seen of a trace's text before anybody has said what it is. A guess: the person says what holds. */
export interface TraceGuess {
  delimiter: Delimiter
  decimalMark: '.' | ','
  /** Rows before the numbers. */
  headerRows: number
  /** Names from the header, `''` where there is none; one for each column. */
  columns: string[]
  depthColumn: number
  resistanceColumn: number
  /** Named by the header, otherwise null. */
  depthUnit: DepthUnit | null
  /** As the header names it, otherwise null. */
  resistanceUnit: string | null
  /** Rows with something in them, header left out. */
  rows: number
}

/** What the person says of the text. Columns count from 0. */
export interface TraceColumns {
  depthUnit: DepthUnit
  depthColumn: number
  resistanceColumn: number
}

/** Depth from the outside of the bark along the instrument, strictly increasing, and resistance in the instrument's own unit. */
export interface Trace {
  depthsCm: Float64Array
  resistances: Float64Array
}

/** Points of a line to draw, in order of depth. */
export interface TraceCurve {
  depthsCm: number[]
  resistances: number[]
}

/** Levels that the naming stood on, in the trace's own unit and with the creep taken off. */
export interface TraceLevels {
  /** The drill turning in air. */
  floor: number
  /** Firm wood of this trace. */
  sound: number
  /** Below this softened, and below `voidBelow` nothing but air. */
  softenedBelow: number
  voidBelow: number
  /** Creep of the resistance with depth that was allowed for (chips and shaft rub), per cm. */
  creepPerCm: number
  /** Median of each proposed segment. */
  segments: number[]
}

/** Borders for a person to accept or to move. What no segment covers is unknown. */
export interface TraceProposal {
  method: 'trace-1'
  /** null where the trace does not tell bark from wood. */
  barkCm: number | null
  segments: WoodSegment[]
  levels: TraceLevels
  /** The reading itself, at most 1,500 points; least and greatest of every stretch are kept. */
  drawn: TraceCurve
  /** The reading with rings and spikes smoothed out, at most 1,500 points. */
  smoothed: TraceCurve
  /** Sentences for the person who looks at the proposal. */
  notes: string[]
  stoppedBy: 'end of trace'
}
