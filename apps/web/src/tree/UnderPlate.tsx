import {
  defaultExposurePolicy,
  type ExposureFlagCode,
  type ExposurePolicy,
  exposureFlagSentences,
  type FallingTree,
} from '@underbough/exposure'
import type { Tree } from '@underbough/model'
import { RangeAxis, RangeBar, rangeCaption, ZoneSwatch } from '@underbough/pictures'
import type { TreeExposureView } from '../api/index.ts'
import { count, Facts, Loading, Plate, Reasons, sayDate, sayPeople } from '../look/index.ts'
import { Scrolled } from './Scrolled.tsx'
import { onPhone, textScaleOf, useWidth } from './useWidth.ts'

/** Whether the figures are at hand. */
export type ExposureState = 'known' | 'pending' | 'error'

const unit = 'people within its outline'
const outOf100 = (share: number) =>
  share > 0 && share < 0.005
    ? 'under 1'
    : share < 1 && share > 0.995
      ? 'over 99'
      : String(Math.round(share * 100))

/** Who would be under it: one row a zone, the heaviest first, given that it falls. */
export function UnderPlate({
  no,
  tree,
  exposure,
  state,
}: {
  no: number
  tree: Tree
  exposure: TreeExposureView | null
  state: ExposureState
}) {
  return (
    <Plate
      no={no}
      title="Who would be under it"
      aside="given that it falls"
      className="wide"
      caption={exposure && exposure.zones.length > 0 ? rangeCaption : null}
    >
      {exposure ? (
        <Known tree={tree} exposure={exposure} />
      ) : state === 'pending' ? (
        <Loading>Fetching who is under it.</Loading>
      ) : state === 'error' ? (
        <p className="q">Who is under it could not be fetched. The rest of the page stands.</p>
      ) : (
        <p className="q">
          {tree.status === 'gone' || tree.status === 'stump'
            ? 'Nothing stands here that could fall.'
            : 'Not computed: without a height or a stem nobody can say how far it reaches. Measure one of them and keep the record.'}
        </p>
      )}
    </Plate>
  )
}

function Known({ tree, exposure }: { tree: Tree; exposure: TreeExposureView }) {
  const { people, pAny, pTouch } = exposure.joint
  const [box, width] = useWidth()
  const bar = onPhone() ? Math.min(width, 330) : 190
  return (
    <div ref={box}>
      <div className="prose">
        <b>If it falls: {sayPeople(people.mean)} people within its outline.</b> On average;{' '}
        {sayPeople(people.least)} to {sayPeople(people.most)} by what turns it. Within the stem’s strip{' '}
        {sayPeople(people.stem)}, within the crown {sayPeople(people.crown)}. In {outOf100(pAny)} of 100 falls
        at least one person is there; {outOf100(pTouch.mean)} of 100 touch a target zone.{' '}
        <Why tree={tree} exposure={exposure} />
      </div>
      {exposure.zones.length === 0 ? (
        <p className="q">No target zone lies within its reach of {exposure.reachM.toFixed(1)} m.</p>
      ) : (
        <Zones exposure={exposure} barPx={bar} />
      )}
      {sentencesOf(exposure).map((sentence) => (
        <p key={sentence} className="tree-flag s">
          {sentence}
        </p>
      ))}
    </div>
  )
}

/** A range in words; one figure where both ends read alike. */
function sayRange({ least, most }: { least: number; most: number }): string {
  const [low, high] = [sayPeople(least), sayPeople(most)]
  return low === high ? low : `${low.replace('under 0.01', '0')} to ${high}`
}

function Zones({ exposure, barPx }: { exposure: TreeExposureView; barPx: number }) {
  return onPhone() ? (
    <ZoneList exposure={exposure} barPx={barPx} />
  ) : (
    <ZoneTable exposure={exposure} barPx={barPx} />
  )
}

function ZoneList({ exposure, barPx }: { exposure: TreeExposureView; barPx: number }) {
  return (
    <>
      <RangeAxis title={unit} widthPx={barPx} textScale={textScaleOf(window.innerWidth)} />
      <ul className="tree-list">
        {exposure.zones.map((zone) => (
          <li key={zone.zoneId}>
            <div className="row">
              <span className="tree-zone">
                <ZoneSwatch kind={zone.kind} hidden /> {zone.name}
              </span>
              <b className="sp">{sayPeople(zone.people.mean)}</b>
            </div>
            <RangeBar range={{ ...zone.people, unit }} widthPx={barPx} heightPx={18} />
            <p className="s q">
              {sayRange(zone.people)} people; stem {sayPeople(zone.people.stem)}, crown{' '}
              {sayPeople(zone.people.crown)}. {outOf100(zone.pTouch.mean)} of 100 falls touch it,{' '}
              {outOf100(zone.pAny)} with somebody there.
            </p>
          </li>
        ))}
      </ul>
    </>
  )
}

function ZoneTable({ exposure, barPx }: { exposure: TreeExposureView; barPx: number }) {
  return (
    <Scrolled label="Zones within reach">
      <table>
        <thead>
          <tr>
            <th>Zone</th>
            <th style={{ minWidth: barPx + 10 }}>
              <RangeAxis title={unit} widthPx={barPx} />
            </th>
            <th className="n">mean</th>
            <th className="n">least to most</th>
            <th className="n">in stem, crown</th>
            <th className="n">touched by</th>
            <th className="n">somebody there</th>
          </tr>
        </thead>
        <tbody>
          {exposure.zones.map((zone) => (
            <tr key={zone.zoneId}>
              <td>
                <span className="tree-zone">
                  <ZoneSwatch kind={zone.kind} hidden /> {zone.name}
                </span>
              </td>
              <td>
                <RangeBar range={{ ...zone.people, unit }} widthPx={barPx} heightPx={20} />
              </td>
              <td className="n b">{sayPeople(zone.people.mean)}</td>
              <td className="n">{sayRange(zone.people)}</td>
              <td className="n">
                {sayPeople(zone.people.stem)}, {sayPeople(zone.people.crown)}
              </td>
              <td className="n">{outOf100(zone.pTouch.mean)} of 100</td>
              <td className="n">{outOf100(zone.pAny)} of 100</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolled>
  )
}

/** Flags in words, each kind once, with the zones it is about. */
function sentencesOf(exposure: TreeExposureView): string[] {
  const names = new Map(exposure.zones.map((zone) => [zone.zoneId, zone.name]))
  const about = new Map<string, Set<string>>()
  for (const { code, zoneIds } of exposure.flags) {
    const set = about.get(code) ?? new Set<string>()
    for (const id of zoneIds) if (names.has(id)) set.add(names.get(id)!)
    about.set(code, set)
  }
  return [...about].map(([code, zones]) => {
    const sentence = exposureFlagSentences[code as ExposureFlagCode] ?? code
    return zones.size > 0 ? `${sentence} Here: ${[...zones].join(', ')}.` : sentence
  })
}

interface Inputs {
  tree?: FallingTree
  zones?: { id: string; meanPeople: number; areaM2: number }[]
  policy?: ExposurePolicy
}

/** Inputs, method and assumptions of the figures. */
function Why({ tree, exposure }: { tree: Tree; exposure: TreeExposureView }) {
  const inputs = ((exposure as TreeExposureView & { inputs?: Inputs }).inputs ?? {}) as Inputs
  const fall = inputs.tree
  const policy = inputs.policy ?? defaultExposurePolicy
  const names = new Map(exposure.zones.map((zone) => [zone.zoneId, zone.name]))
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
      <span className="reason">
        Method {exposure.methodVersion}, {count(exposure.zones.length, 'zone')} within reach, computed{' '}
        {sayDate(exposure.computedAt.slice(0, 10))}. It says who would be under a fall, not whether one comes.
      </span>
    </Reasons>
  )
}
