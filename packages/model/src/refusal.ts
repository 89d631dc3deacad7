/**
 * One refusal, all the way: from a package to the problem body of the API, the field of a form and the import report.
 * Codes are declared once, here. Tests assert the code, never the sentence.
 */
export const refusalCodes = {
  // any record
  required: 'A value is missing.',
  'out-of-range': 'A number lies outside its limits.',
  malformed: 'A value is not of the form asked for.',
  unknown: 'The thing named does not exist.',
  conflict: 'Somebody else changed this record first.',
  'in-use': 'Other records stand on this one.',
  forbidden: 'This person may not do this.',
  'signed-out': 'Nobody is signed in.',
  'too-large': 'The input is larger than what is taken.',
  unavailable: 'A part of the program cannot answer now.',
  'internal-fault': 'The program failed; nothing was written.',
  cancelled: 'A person stopped it; nothing was written.',
  // entries from a device
  'entry-kind-unknown': 'This office does not know entries of this kind.',
  'entry-format-unknown': 'The entry is of a form this office does not read.',
  'entry-key-reused': 'Another entry bears this key.',
  'author-unknown': 'The author of this entry is nobody known here.',
  'bytes-missing': 'The bytes of this photo have not arrived yet.',
  'owner-missing': 'What this belongs to has not arrived yet.',
  'digest-differs': 'The bytes changed on their way.',
  'storage-full': 'The device has no room left.',
  // geometry
  'geometry-empty': 'A geometry has no coordinates.',
  'geometry-crosses-itself': 'The outline crosses itself.',
  'geometry-no-area': 'The outline encloses no area.',
  'geometry-outside-world': 'A coordinate lies outside the world or outside its reference system.',
  'geometry-wrong-kind': 'The geometry is of another kind than the record needs.',
  'geometry-ring-closed': 'An outline did not end where it began; it was closed.',
  'geometry-ring-turned': 'An outline ran the other way round; it was turned.',
  'geometry-height-dropped': 'Coordinates carry a height; it was left out.',
  // reading a file
  'file-empty': 'The file holds nothing.',
  'file-header-only': 'The file has a header and no rows.',
  'file-not-text': 'The file is not text in any encoding known here.',
  'file-not-this-format': 'The file is not of the format it was taken for.',
  'file-encoding-guessed': 'The encoding was guessed from the bytes.',
  'column-missing': 'A column that the mapping names is not in the file.',
  'column-count': 'A row has more or fewer cells than the header.',
  'crs-unknown': 'The coordinate reference system is not known.',
  'crs-approximate': 'Coordinates of this reference system reach WGS84 only approximately.',
  'axes-swapped': 'The two coordinates stand in the other order than their names say.',
  'position-missing': 'A row has no position.',
  'position-far-away': 'A point lies far from the rest of its file.',
  'id-missing': 'A row has no stable identifier.',
  'id-duplicate': 'Two rows share one stable identifier.',
  'diameter-implausible': 'A stem diameter is negative, zero or larger than any tree.',
  'diameter-unusual': 'A stem diameter is larger than is usual; it is kept and should be looked at.',
  'height-implausible': 'A height is negative or taller than any tree.',
  'number-unreadable': 'A cell that should hold a number holds something else.',
  'value-blank': 'A cell is blank, so the value stays unknown.',
  'species-unknown': 'A species name was not recognised; it is kept as written.',
  'tag-repeated': 'Two trees bear one tag; it was made longer so that both can be kept.',
  'kind-assumed':
    'What this place is could not be told from the file; the kind chosen for the file was given.',
  'group-of-trees': 'A row stands for several trees.',
  'shared-position': 'Several trees stand on one point.',
  // looking, rating, due
  'visit-no-assignment': 'A visit needs its assignment: scope, level, time frame and targets.',
  'visit-step-unanswered': 'A visit cannot be closed with a step of the looking sequence unanswered.',
  'visit-closed': 'The visit is closed; a correction is a new entry.',
  'rating-no-scenario': 'A rating needs a failure scenario.',
  'rating-no-target': 'A failure scenario needs at least one target.',
  'override-no-reason': 'A value that differs from the computed one needs a reason.',
  'urgent-note-first': 'Imminent or extreme: the urgent note comes first.',
  'policy-worse-waits-longer': 'The policy gives a worse case a longer interval.',
  'policy-worse-looked-at-less': 'The policy gives a worse case a lower level of visit.',
  'policy-cell-empty': 'The policy leaves a case without an interval.',
  // expected per year
  'estimate-no-failures': 'No recorded failure holds the estimate to account; it stays off.',
  'estimate-disagrees': 'The estimate disagrees with the failures on record.',
  'bands-out-of-order': 'A worse failure word has a lower chance than a lighter one.',
  // wind files
  'hour-unreadable': 'A row does not say when it was.',
  'hour-skipped': 'A clock time that did not exist, because clocks were put forward.',
  'hour-repeated': 'Several rows are of one hour; the strongest gust counts.',
  'hours-missing': 'Hours are missing between the first and the last.',
  'wind-fault': 'A wind speed is beyond anything measured on the ground; it was set aside.',
  'gust-without-direction': 'A gust came without a direction; it counts in the history, not in the rose.',
  'gusts-few': 'The rose rests on few days with strong gusts.',
  'gusts-none': 'No gust is strong enough to make a rose of.',
  // inside the stem
  'segment-backwards': 'A segment ends before it begins.',
  'segments-overlap': 'Two segments cover the same depth.',
  'reading-past-borer': 'A reading is longer than the borer that took it.',
  'reading-past-radius': 'A reading is longer than the radius of the stem there.',
  'reading-past-stem': 'A reading is longer than the stem is thick on its way.',
  'reading-misses-stem': 'The instrument points past the stem.',
  'heights-mixed': 'Readings at different heights cannot make one section.',
  'outline-missing': 'Nothing says how thick the stem is at this height.',
  'outline-crosses-itself': 'The outline of the stem crosses itself or does not go round its middle.',
  'outline-differs': 'Two outlines are measured at one height.',
  'opening-incomplete': 'An opening needs both edges, the wall at each edge and its depth.',
  'trace-text': 'A cell of the trace that should hold a number holds something else.',
  'trace-depth-backwards': 'The depth goes back.',
  'trace-depth-repeated': 'Several rows share one depth; their resistances were averaged.',
  'trace-resistance-missing': 'A row of the trace has no resistance.',
  'trace-too-short': 'The trace has too few rows to read.',
  'trace-too-long': 'The trace has more rows than are taken.',
  'trace-one-column': 'The trace needs two columns: depth and resistance.',
  'pith-arc': 'The arc of the innermost ring is higher than half its chord.',
  'wind-area-kind': 'The drag goes with another kind of area.',
  'wind-terrain-height': 'The height lies outside the terrain formula.',
  // rounds
  'crew-hours': "A crew's day ends before it begins.",
  'no-crew': 'There is no crew to plan for.',
  'no-day': 'There is no working day between the two dates.',
  'unplaced-no-skill': 'No crew on any day has the level or equipment this tree needs.',
  'unplaced-no-window': 'The times at which this tree can be visited meet no shift.',
  'unplaced-too-long': 'The visit takes longer than any shift.',
  'unplaced-full': 'Every suitable day is full; placing it would push out what matters more.',
  'unplaced-unreachable': 'The way there and back is longer than any shift.',
} as const

/** A stable name of one kind of refusal or note. */
export type RefusalCode = keyof typeof refusalCodes

/** Why something was not done, in a form that a person, a form field and a program can all use. */
export interface Refusal {
  code: RefusalCode
  /** Where: a path into the input, for example `stems.0.diameterCm`, or a column name. Empty for the whole. */
  path: string
  /** The value that was refused, as it came. */
  value?: unknown
  /** The limit it broke, where there is one, with its unit in words: `at most 130 m`. */
  limit?: string
  /** One sentence for a person: what was wrong and what to do. */
  message: string
}

/** What a domain function gives back: a value, perhaps with notes, or the reasons why not. */
export type Outcome<T> = { ok: true; value: T; notes: Refusal[] } | { ok: false; refusals: Refusal[] }

/** Success, with or without notes. */
export function done<T>(value: T, notes: Refusal[] = []): Outcome<T> {
  return { ok: true, value, notes }
}

/** Builds one refusal; the message falls back to the code's own sentence. */
export function refusal(
  code: RefusalCode,
  path = '',
  extra: Partial<Omit<Refusal, 'code' | 'path'>> = {},
): Refusal {
  return { code, path, message: refusalCodes[code], ...extra }
}

/** Failure with one or more reasons. */
export function refused<T = never>(...refusals: Refusal[]): Outcome<T> {
  return { ok: false, refusals }
}
