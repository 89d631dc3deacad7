import type { Rating, Scenario } from '@underbough/model'
import { jointLikelihood, matrices, riskOf } from '@underbough/rating'
import type { TreeWhole } from '../api/index.ts'
import { capital, Plate, Reasons, sayDate } from '../look/index.ts'
import { sayBearing, sayMetres } from './facts.ts'
import { Scrolled } from './Scrolled.tsx'
import { onPhone } from './useWidth.ts'

const partNames = { 'whole-tree': 'Whole tree', stem: 'Stem', limb: 'Limb' } as const

/** What may fail, what it would meet, and the words that follow. */
export function RatingPlate({ no, whole }: { no: number; whole: TreeWhole }) {
  const { rating, ratings } = whole
  return (
    <Plate
      no={no}
      title="Rating"
      aside={rating ? `${rating.personName}, ${sayDate(rating.ratedAt.slice(0, 10))}` : undefined}
    >
      {rating ? (
        <Scenarios rating={rating} />
      ) : (
        <p className="q">No rating yet. The first visit makes one.</p>
      )}
      {rating ? (
        <div className="s q tree-more">
          Likelihood of failure within {rating.timeFrameYears} years; change expected: {rating.changeRate}.{' '}
          {rating.residualRisk ? `After the proposed work: ${rating.residualRisk}. ` : ''}
          <Reasons>
            <span className="reason">{capital(matrices.source)}.</span>
            <span className="reason">
              Matrices {rating.matricesEdition}, policy {rating.policyEdition}, method {rating.methodVersion}.
            </span>
            {ratings.slice(1).map((old) => (
              <span key={old.id} className="reason">
                {sayDate(old.ratedAt.slice(0, 10))}: {old.risk}, {old.personName}
                {old.reopenedBecause ? `; open again: ${old.reopenedBecause}` : ''}.
              </span>
            ))}
          </Reasons>
        </div>
      ) : null}
    </Plate>
  )
}

function Scenarios({ rating }: { rating: Rating }) {
  return (
    <>
      {rating.overrideRisk ? (
        <p className="prose">
          <b>
            The words give {rating.computedRisk}; {rating.personName} put {rating.risk}.
          </b>{' '}
          {rating.overrideReason}
        </p>
      ) : null}
      {rating.scenarios.map((scenario) => (
        <div key={scenario.id} className="tree-scenario">
          <p className="prose">
            <b>{partNames[scenario.part]}</b>, {scenario.partSize}
            {scenario.heightM === null ? '' : `, ${sayMetres(scenario.heightM)} up`}
            {scenario.knownBearingDeg === null ? '' : `, towards ${sayBearing(scenario.knownBearingDeg)}`}:{' '}
            {scenario.description} Failure <b>{scenario.failure}</b>.
          </p>
          <Targets scenario={scenario} />
        </div>
      ))}
    </>
  )
}

function Targets({ scenario }: { scenario: Scenario }) {
  const rows = scenario.targets.map((target) => {
    const joint = jointLikelihood(scenario.failure, target.impact)
    const differs =
      target.impact === target.proposedImpact
        ? null
        : `proposed ${target.proposedImpact}; ${target.impactReason}`
    return { ...target, joint, risk: riskOf(joint, target.consequences), differs }
  })
  if (onPhone())
    return (
      <ul className="tree-list">
        {rows.map((row) => (
          <li key={row.targetName}>
            <b>{row.targetName}</b>
            {row.protection === 'none' ? '' : `, ${row.protection} protection`}: impact {row.impact}, together{' '}
            {row.joint}, consequences {row.consequences}, risk <b>{row.risk}</b>.
            {row.differs ? <p className="q">Impact {row.differs}</p> : null}
          </li>
        ))}
      </ul>
    )
  return (
    <Scrolled label={`Targets: ${scenario.description}`}>
      <table>
        <thead>
          <tr>
            <th>Target</th>
            <th>Impact</th>
            <th>Together</th>
            <th>Consequences</th>
            <th>Risk</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.targetName}>
              <td>
                {row.targetName}
                {row.protection === 'none' ? null : <div className="s q">{row.protection} protection</div>}
                {row.differs ? <div className="s q">impact {row.differs}</div> : null}
              </td>
              <td>{row.impact}</td>
              <td>{row.joint}</td>
              <td>{row.consequences}</td>
              <td className="b">{row.risk}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  )
}
