import { type CivilDate, failureWords, rank } from '@underbough/model'
import { checkBands, type FailureBands } from '@underbough/rating'
import { refusalsOf } from '../api/index.ts'
import {
  capital,
  count,
  Field,
  Loading,
  Notice,
  NumberField,
  Plate,
  Refusals,
  refusalAt,
  sayDate,
} from '../look/index.ts'
import { onPhone, useWidth } from '../tree/useWidth.ts'
import { decadesOver, EstimateAxis, EstimateBar } from './EstimateBar.tsx'
import { type EstimateCheck, useEstimateCheck } from './estimateHooks.ts'
import { sayFailures } from './estimateWords.ts'

/** Bands of chance behind the failure words, and what the organisation's own failures say to them. */
export function EstimateCheckPlate({
  bands,
  since,
  onBands,
  onSince,
}: {
  bands: FailureBands
  since: CivilDate | null
  onBands(bands: FailureBands): void
  onSince(since: CivilDate): void
}) {
  const faults = checkBands(bands)
  const check = useEstimateCheck(faults.length === 0 ? bands : null, since)
  const set = (word: (typeof failureWords)[number], end: 'from' | 'to', percent: number | null) =>
    onBands({
      edition: 'own',
      words: { ...bands.words, [word]: { ...bands.words[word], [end]: (percent ?? 0) / 100 } },
    })
  return (
    <Plate title="What a word means, held against our own failures">
      <p className="prose q">
        No published yearly rate for a failure word was found. These bands are wide on purpose, each a chance
        within the time frame of the rating. They may be used only where the failures they predict agree with
        the failures on record here.
      </p>
      <div className="estimate-check">
        <div>
          <div className="estimate-bands">
            {failureWords.map((word) => (
              <fieldset key={word}>
                <legend>{capital(word)}</legend>
                <NumberField
                  label="From"
                  unit="%"
                  value={percentOf(bands.words[word].from)}
                  onChange={(percent) => set(word, 'from', percent)}
                />
                <NumberField
                  label="To"
                  unit="%"
                  value={percentOf(bands.words[word].to)}
                  onChange={(percent) => set(word, 'to', percent)}
                />
                {refusalAt(faults, `bands.words.${word}`) ? (
                  <p className="field-refusal">{refusalAt(faults, `bands.words.${word}`)}</p>
                ) : null}
              </fieldset>
            ))}
          </div>
          <Field
            label="Failures are recorded without gaps since"
            type="date"
            value={since ?? check.data?.since ?? ''}
            hint="Earlier years say nothing: a failure that nobody wrote down looks like none."
            refusal={refusalAt(refusalsOf(check.error), 'recordsSince')}
            onChange={onSince}
          />
        </div>
        <div>
          {check.data ? (
            <Result check={check.data} />
          ) : check.error ? (
            <Refusals title="The check could not be made." refusals={refusalsOf(check.error)} />
          ) : (
            <Loading>Counting failures and the years that ratings stood.</Loading>
          )}
        </div>
      </div>
    </Plate>
  )
}

const inOrder = (atRisk: EstimateCheck['record']['atRisk']) =>
  atRisk.toSorted((a, b) => rank(failureWords, a.failure) - rank(failureWords, b.failure))
const percentOf = (chance: number) => Number((chance * 100).toPrecision(6))

function Result({ check: { agreement, record, since } }: { check: EstimateCheck }) {
  const [box, width] = useWidth()
  const { predicted, interval, failures, refusal } = agreement
  const axis = decadesOver([predicted.least, predicted.most, interval.least, interval.most])
  const bar = Math.min(width, onPhone() ? 330 : 420)
  return (
    <div ref={box} className="estimate-result">
      <p>
        Since {sayDate(since)}: <b>{count(failures, 'failure')}</b> of rated trees over{' '}
        {count(Math.round(record.treeYears), 'tree-year')}; {record.allFailures} on record in all.
      </p>
      {bar > 0 ? (
        <div>
          <EstimateAxis axis={axis} widthPx={bar} say={sayFailures} />
          <p className="s">
            Failures these bands predict: {sayFailures(predicted.least)} to {sayFailures(predicted.most)}
          </p>
          <EstimateBar
            range={predicted}
            axis={axis}
            widthPx={bar}
            says={`Predicted: ${sayFailures(predicted.least)} to ${sayFailures(predicted.most)} failures`}
          />
          <p className="s">
            What {failures} recorded {failures === 1 ? 'failure speaks' : 'failures speak'} for, at 95 %:{' '}
            {sayFailures(interval.least)} to {sayFailures(interval.most)}
          </p>
          <EstimateBar
            range={interval}
            axis={axis}
            widthPx={bar}
            says={`Recorded: ${sayFailures(interval.least)} to ${sayFailures(interval.most)}`}
          />
        </div>
      ) : null}
      {refusal ? (
        <Notice tone="refused" title="It stays off.">
          {refusal.message}
        </Notice>
      ) : (
        <Notice tone="kept" title="The two overlap.">
          These bands may be decided on. That they agree does not make them right: so few failures agree with
          much.
        </Notice>
      )}
      <table>
        <thead>
          <tr>
            <th>Word</th>
            <th className="n">Time frame</th>
            <th className="n">Years it stood at a tree</th>
          </tr>
        </thead>
        <tbody>
          {inOrder(record.atRisk).map(({ failure, timeFrameYears, years }) => (
            <tr key={`${failure} ${timeFrameYears}`}>
              <td>{failure}</td>
              <td className="n">{count(timeFrameYears, 'year')}</td>
              <td className="n">{Math.round(years).toLocaleString('en-GB')}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="s q">
        A rating stands until the next one, until work on the tree, or until it is gone. Near misses count:
        something came down. Interval: exact for a Poisson count (Garwood 1936).
      </p>
    </div>
  )
}
