import { type Refusal, type RefusalCode, refusal } from '@underbough/model'

/** Every code that reading a file can give. A spec walks this list and demands a case for each. */
export const exchangeCodes = [
  'unknown',
  'too-large',
  'out-of-range',
  'geometry-empty',
  'geometry-crosses-itself',
  'geometry-no-area',
  'geometry-outside-world',
  'geometry-wrong-kind',
  'geometry-ring-closed',
  'geometry-ring-turned',
  'geometry-height-dropped',
  'file-empty',
  'file-header-only',
  'file-not-text',
  'file-not-this-format',
  'file-encoding-guessed',
  'column-missing',
  'column-count',
  'crs-unknown',
  'crs-approximate',
  'axes-swapped',
  'position-missing',
  'position-far-away',
  'id-missing',
  'id-duplicate',
  'diameter-implausible',
  'diameter-unusual',
  'height-implausible',
  'number-unreadable',
  'value-blank',
  'species-unknown',
  'tag-repeated',
  'kind-assumed',
  'group-of-trees',
  'shared-position',
  'hour-unreadable',
  'hour-skipped',
  'hour-repeated',
  'hours-missing',
  'wind-fault',
  'gust-without-direction',
  'gusts-few',
  'gusts-none',
] as const satisfies readonly RefusalCode[]

export type ExchangeCode = (typeof exchangeCodes)[number]

/** The only way this package makes a refusal or a note, so that the list above stays complete. */
export function say(
  code: ExchangeCode,
  path: string,
  message: string,
  extra: { value?: unknown; limit?: string } = {},
): Refusal {
  return refusal(code, path, { message, ...extra })
}
