import { defaultExposurePolicy, type ExposurePolicy, type FallingTree } from '@underbough/exposure'
import type { Tree } from '@underbough/model'
import type { TreeExposureView } from '../api/index.ts'
import { count, Facts, Reasons, sayDate, sayPeople } from '../look/index.ts'
import { type CloserKnown, sayMoves } from './underWords.ts'

interface Inputs {
  tree?: FallingTree
  zones?: { id: string; meanPeople: number; areaM2: number }[]
  policy?: ExposurePolicy
}

/** Inputs, method and assumptions of the figures. */
export function UnderWhy({
  tree,
  exposure,
  closer,
}: {
  tree: Tree
  exposure: TreeExposureView
  closer: CloserKnown
}) {
  const { under } = exposure
  const inputs: Inputs =
    under?.whole.inputs ?? (exposure as TreeExposureView & { inputs?: Inputs }).inputs ?? {}
  const moves = under ? sayMoves(closer) : null
  const fall = inputs.tree
  const policy = inputs.policy ?? defaultExposurePolicy
  const named = under?.named ?? exposure.zones.map((zone) => ({ id: zone.zoneId, name: zone.name }))
  const names = new Map(named.map(({ id, name }) => [id, name]))
  const share = (x: number) => `${Math.round(x * 100)}`
  const w = policy.directionWeights
  const radii = fall?.crownRadiiM
  return (
    <Reasons>
      <Facts
        rows={[
          [
            'Height',
            fall
              ? `${fall.heightM.toFixed(1)} m${fall.heightEstimated ? ', estimated from the stem' : ', measured'}`
              : '–',
          ],
          [
            'Stem',
            fall?.stemDiameterCm == null
              ? 'assumed from the height'
              : `${Math.round(fall.stemDiameterCm)} cm`,
          ],
          ['Crown base', fall?.crownBaseHeightM == null ? 'assumed' : `${fall.crownBaseHeightM} m`],
          [
            'Crown N, E, S, W',
            radii ? `${radii.n}, ${radii.e}, ${radii.s}, ${radii.w} m` : 'assumed from the height',
          ],
          ['Lean', fall?.lean ? `${fall.lean.angleDeg}° to ${fall.lean.bearingDeg}°` : 'none on record'],
          [
            'Clearing',
            fall?.clearingBearingDeg == null ? 'none on record' : `to ${fall.clearingBearingDeg}°`,
          ],
          ['Wind', fall?.windRose ? 'the site’s rose of strong gusts' : 'no rose for this site'],
          [
            'Position',
            tree.positionAccuracyM === null ? 'accuracy not known' : `± ${tree.positionAccuracyM} m`,
          ],
          ['Reach', `${exposure.reachM.toFixed(1)} m`],
        ]}
      />
      {(inputs.zones ?? [])
        .filter((zone) => names.has(zone.id))
        .map((zone) => (
          <span key={zone.id} className="reason">
            {names.get(zone.id)}: {sayPeople(zone.meanPeople)} people in its {Math.round(zone.areaM2)} m² over
            the week.
          </span>
        ))}
      <span className="reason">
        Assumed, of what turns a fall: any way {share(w.even)}, its lean {share(w.lean)}, the heavier side of
        the crown {share(w.crown)}, a clearing {share(w.clearing)}, the wind {share(w.wind)} parts; what gives
        no reason here drops out. Least and most are over these alone. Half a person’s width,{' '}
        {policy.bodyHalfWidthM} m, is added to the stem.
      </span>
      {moves ? <span className="reason">{moves}</span> : null}
      <span className="reason">
        {under
          ? under.policyEdition === 0
            ? 'Assumptions: the starting figures. '
            : `Assumptions: edition ${under.policyEdition}. `
          : ''}
        Method {under?.whole.methodVersion ?? exposure.methodVersion}, {count(exposure.zones.length, 'zone')}{' '}
        within reach, computed {sayDate(exposure.computedAt.slice(0, 10))}. It says who would be under a fall,
        not whether one comes.
      </span>
    </Reasons>
  )
}
