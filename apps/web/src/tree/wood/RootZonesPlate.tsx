import type { Tree } from '@underbough/model'
import { rootZones } from '@underbough/wood'
import { Plate, Reasons } from '../../look/index.ts'

/** Published root-zone radii beside one another; none is preferred. */
export function RootZonesPlate({ no, tree }: { no: number; tree: Tree }) {
  const outcome = rootZones({ stemsCm: tree.stems.map((stem) => stem.diameterCm) })
  if (!outcome.ok) return null
  const { zones, sentence } = outcome.value
  return (
    <Plate
      no={no}
      title="Root zones, side by side"
      aside="from the middle of the stem"
      className="wood-roots"
      caption={sentence}
    >
      <table>
        <thead>
          <tr>
            <th>Rule</th>
            <th className="n">Radius</th>
            <th className="n">Area</th>
          </tr>
        </thead>
        <tbody>
          {zones.map((zone) => (
            <tr key={zone.id}>
              <td>
                {zone.name}
                <div className="s q">
                  {zone.rule}
                  {zone.bound ? `; here ${zone.bound}` : ''}
                </div>
              </td>
              <td className="n">{zone.radiusM.toFixed(1)} m</td>
              <td className="n">{Math.round(zone.areaM2)} m²</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="s q tree-more">
        <Reasons label="What each was made for">
          {zones.map((zone) => (
            <span key={zone.id} className="reason">
              {zone.name}: {zone.domain} {zone.source}
              {zone.basis === 'memory' && !/memory/.test(zone.domain) ? ', from memory' : ''}; diameter used{' '}
              {Math.round(zone.diameterCm)} cm.
            </span>
          ))}
        </Reasons>
      </div>
    </Plate>
  )
}
