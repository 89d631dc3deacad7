import { assessorsDiffer, lineVerdictWords, moverWords } from '@underbough/rating'
import { capital, Notice, Plate, sayDate } from '../look/index.ts'
import { decadesOver, EstimateAxis, EstimateBar } from '../settings/EstimateBar.tsx'
import type { TreeEstimate } from '../settings/estimateHooks.ts'
import { sayChance, sayExpected, saySpan } from '../settings/estimateWords.ts'
import { onPhone, useWidth } from './useWidth.ts'
import '../settings/estimate.css'

const partNames = { 'whole-tree': 'Whole tree', stem: 'Stem', limb: 'Limb' } as const

/** What is expected per year of this tree, and what moves that most. Stands on the page only while the organisation has it on. */
export function EstimatePlate({ no, estimate }: { no: number; estimate: TreeEstimate }) {
  const [box, width] = useWidth()
  const { perYear, scenarios, movers, mostExposed, anyFails } = estimate
  const axis = decadesOver([
    perYear.least,
    perYear.most,
    ...movers.flatMap(({ least, most }) => [least, most]),
  ])
  const bar = Math.min(width, onPhone() ? 330 : 420)
  return (
    <Plate
      no={no}
      title="Expected per year"
      aside="a range, for ranking only"
      className="wide"
      caption={`Bands ${estimate.bandsEdition}, decided ${sayDate(estimate.decidedOn.slice(0, 10))}. Expected numbers of people within an outline, not chances, and nothing about harm. ${assessorsDiffer}`}
    >
      <div ref={box} className="estimate-result">
        <p className="prose">
          <b>Somebody within the outline: {saySpan(perYear, sayExpected)}.</b> That something of it fails in a
          year: {saySpan(anyFails, sayChance)}. So wide a range ranks trees against each other. What the
          rating asks for stands, whatever is shown here.
        </p>
        {estimate.workedOnSince ? (
          <Notice tone="mind">Work was done on it after the rating; the word is from before.</Notice>
        ) : null}
        <ul className="tree-list">
          {scenarios.map((scenario) => (
            <li key={scenario.description}>
              <b>{partNames[scenario.part]}</b>, {scenario.failure} within {scenario.timeFrameYears} years:{' '}
              {saySpan(scenario.yearly, sayChance)} in one year.{' '}
              <span className="q">
                {scenario.zones.length === 0
                  ? 'It meets no zone that people use.'
                  : `${scenario.zones
                      .slice(0, 3)
                      .map(({ name, perYear: of }) => `${name} ${saySpan(of, sayExpected)}`)
                      .join('; ')}.`}
              </span>
            </li>
          ))}
        </ul>
        {bar > 0 && perYear.most > 0 ? (
          <div className="estimate-movers">
            <h3>Which input moves the answer most</h3>
            <EstimateAxis axis={axis} widthPx={bar} say={sayExpected} />
            {movers.map((mover) => (
              <div key={mover.input}>
                <EstimateBar
                  range={mover}
                  axis={axis}
                  widthPx={bar}
                  says={`${moverWords[mover.input]}: ${saySpan(mover, sayExpected)}`}
                />
                <p className="s">
                  {capital(moverWords[mover.input])}
                  <span className="q">
                    {mover.times === null ? '' : `: ${sayTimes(mover.times)} from end to end`}
                  </span>
                </p>
              </div>
            ))}
          </div>
        ) : null}
        {mostExposed ? (
          <p className="prose">
            Most exposed of the people named: <b>{mostExposed.who}</b>, {mostExposed.zoneName}, under{' '}
            {mostExposed.trees} trees there, {saySpan(mostExposed.perYear, sayChance)} a year to be killed.{' '}
            <b>{lineVerdictWords[mostExposed.verdict]}</b>{' '}
            <span className="q">
              The lines are 1 in 10,000 and 1 in 1,000,000 a year for one person (Health and Safety Executive
              2001).
            </span>
          </p>
        ) : null}
      </div>
    </Plate>
  )
}

const sayTimes = (times: number) =>
  times < 1.05
    ? 'no change'
    : `${times < 9.5 ? Number(times.toPrecision(2)) : Math.round(times).toLocaleString('en-GB')} times`
