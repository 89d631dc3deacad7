import { drawnOf, FallPlan, frameOf, planCaption, TreePortrait } from '@underbough/pictures'
import type { TreeExposureView, TreeWhole } from '../api/index.ts'
import { findingsOf, portraitTree, targetOf } from '../ground/targets.ts'
import { Plate, sayDate } from '../look/index.ts'
import { footprintOf, planZones, sayBearing, sayMetres } from './facts.ts'
import { textScaleOf, useWidth } from './useWidth.ts'

/** The tree from the side and from above on one axis, and what was found on it. */
export function PortraitPlate({ whole, exposure }: { whole: TreeWhole; exposure: TreeExposureView | null }) {
  const { tree, visits } = whole
  const [box, width] = useWidth()
  const scale = textScaleOf(width)
  const record = portraitTree(tree)
  const findings = findingsOf(visits)
  const first = exposure?.zones.find((zone) => zone.geometry)
  const target = first?.geometry ? targetOf(tree.position, { ...first, geometry: first.geometry }) : null
  const footprint = exposure && exposure.outline.length > 2 ? footprintOf(tree, exposure) : null
  const east = footprint ? Math.max(...footprint.ring.map((p) => p[0])) : 0
  const west = footprint ? -Math.min(...footprint.ring.map((p) => p[0])) : 0
  const frame = frameOf(drawnOf(record), target, {
    widthPx: Math.max(280, width),
    maxHeightPx: 460,
    reachEastM: east + 1,
    reachWestM: west + 1,
    roomPx: 40 * scale,
  })
  return (
    <>
      <Plate no={1} title="The tree, to scale" aside="seen from the south">
        <div ref={box} className="tree-drawings">
          {width > 0 ? (
            <>
              <TreePortrait
                tree={record}
                findings={findings}
                target={target}
                widthPx={width}
                frame={frame}
                textScale={scale}
                seed={Number.parseInt(tree.id.slice(0, 6), 16)}
              />
              <FallPlan
                tree={record}
                zones={exposure ? planZones(tree.position, exposure.zones) : []}
                footprint={footprint}
                widthPx={width}
                pxPerM={frame.pxPerM}
                footPx={frame.footPx}
                textScale={scale}
              />
            </>
          ) : null}
        </div>
        <p className="caption">
          {planCaption({ tree: record, zones: [], footprint })}
          {footprint ? ' One height is the trade’s convention for reach, not a limit.' : ''}
        </p>
      </Plate>
      <Findings whole={whole} />
    </>
  )
}

function Findings({ whole }: { whole: TreeWhole }) {
  const last = whole.visits.find((visit) => visit.stage === 'closed')
  if (!last) return null
  const photosOf = (id: string) => whole.photos.filter((photo) => photo.ownerId === id).length
  const on = sayDate(last.startedAt.slice(0, 10))
  if (last.findings.length === 0)
    return (
      <p className="prose tree-found">
        <b>Looked at {on}; nothing found.</b> {last.couldNotSee ? `Not seen: ${last.couldNotSee}` : ''}
      </p>
    )
  return (
    <table className="tree-found">
      <thead>
        <tr>
          <th>
            <span className="out-of-sight">Number</span>
          </th>
          <th>Found {on}</th>
          <th className="n">Height</th>
          <th className="n">Bearing</th>
          <th className="n">Photos</th>
        </tr>
      </thead>
      <tbody>
        {last.findings.map((finding, i) => (
          <tr key={finding.id}>
            <td className="b">{i + 1}</td>
            <td>
              {finding.kind}
              {finding.extent || finding.note ? (
                <div className="s q">{[finding.extent, finding.note].filter(Boolean).join('; ')}</div>
              ) : null}
            </td>
            <td className="n">{finding.heightM === null ? '' : sayMetres(finding.heightM)}</td>
            <td className="n">{sayBearing(finding.bearingDeg)}</td>
            <td className="n">{photosOf(finding.id) || ''}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
