import { type FailureWord, type Refusal, refusal } from '@underbough/model'
import type { FailureBands } from './bands.ts'
import { type Interval, poissonInterval, poissonUpper } from './counts.ts'
import { addSpans, type Span, yearlySpan } from './yearly.ts'

/** Years that scenarios of one word and time frame stood: from the rating to the next one, to work on the tree, or until it was gone. */
export interface YearsAtRisk {
  failure: FailureWord
  timeFrameYears: number
  years: number
}

/** The organisation's own failures while its ratings stood. */
export interface OwnRecord {
  atRisk: YearsAtRisk[]
  /** Years of rated trees, each counted once. */
  treeYears: number
  /** Failures of those trees on days when their rating stood. */
  failures: number
  /** All failures on record since then, of any tree or none. */
  allFailures: number
}

/** Bands held against the organisation's own failures. */
export interface Agreement {
  /** Failures the bands lead one to expect over the years at risk. */
  predicted: Span
  failures: number
  treeYears: number
  /** Of the number behind the recorded failures, exact, 95 %. */
  interval: Interval
  /** Null where the bands may be used. */
  refusal: Refusal | null
}

const figure = (value: number) =>
  value === 0 ? '0' : value < 10 ? String(Number(value.toPrecision(2))) : String(Math.round(value))

/**
 * Holds bands against what broke: they agree where the failures they predict and the exact interval of the recorded ones
 * overlap. Refused with `estimate-no-failures` where no rated tree has failed on record, for then nothing holds the bands to
 * account, and with `estimate-disagrees` where the two lie apart.
 */
export function agreementWith(record: OwnRecord, bands: FailureBands): Agreement {
  const { failures, treeYears } = record
  const predicted = addSpans(
    record.atRisk.map(({ failure, timeFrameYears, years }) => {
      const chance = yearlySpan(failure, timeFrameYears, bands)
      return { least: years * chance.least, middle: years * chance.middle, most: years * chance.most }
    }),
  )
  const interval = failures === 0 ? { least: 0, most: poissonUpper(0) } : poissonInterval(failures)
  const of = { predicted, failures, treeYears, interval }
  if (failures === 0) return { ...of, refusal: noFailures(record, interval) }
  const apart = predicted.least > interval.most || predicted.most < interval.least
  return { ...of, refusal: apart ? disagrees(of) : null }
}

function noFailures({ treeYears, allFailures }: OwnRecord, { most }: Interval): Refusal {
  const others =
    allFailures === 0
      ? 'No failure is on record'
      : `Of ${allFailures} failures on record none is of a tree while its rating stood`
  const so =
    treeYears > 0
      ? `: over ${figure(treeYears)} tree-years that only says fewer than ${figure(most / treeYears)} a tree-year (95 %)`
      : ''
  return refusal('estimate-no-failures', 'bands', {
    value: 0,
    limit: 'at least one recorded failure of a rated tree',
    message: `${others}${so}. Nothing holds these bands to account, so the estimate stays off.`,
  })
}

function disagrees({ predicted, failures, interval }: Omit<Agreement, 'refusal'>): Refusal {
  const more = predicted.least > interval.most
  return refusal('estimate-disagrees', 'bands', {
    value: `${figure(predicted.least)} to ${figure(predicted.most)} failures`,
    limit: `${figure(interval.least)} to ${figure(interval.most)}, the 95 % interval of ${failures} recorded`,
    message: `These bands predict ${figure(predicted.least)} to ${figure(predicted.most)} failures; ${failures} are on record, which speaks for ${figure(interval.least)} to ${figure(interval.most)}. ${more ? 'They predict too many.' : 'They predict too few.'}`,
  })
}
