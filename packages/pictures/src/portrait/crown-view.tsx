import { type Point, pathOf } from '../draw/geometry.ts'
import { n } from '../draw/shape.ts'
import { crownPath } from './crown.ts'
import type { Drawn } from './dimensions.ts'
import { forkM, hangings, limbPaths, limbsOf } from './limbs.ts'
import { Stem } from './stem.tsx'
import type { PortraitTree } from './types.ts'

type Place = (eastM: number, upM: number) => Point

/** A standing tree: its crown's outline, branches and stem or stems; fellows of a group stand behind it. A tree that is gone is an outline only. */
export function Crown({
  tree,
  place,
  pxPerM,
  record,
  small,
  seed,
}: {
  tree: Drawn
  place: Place
  pxPerM: number
  record: PortraitTree
  small: boolean
  seed: number
}) {
  const lobe = Math.max(4.5, Math.min(0.85 * pxPerM, 13))
  const outline = crownPath(tree, place, lobe, seed)
  if (record.status === 'gone')
    return <path data-part="crown" d={outline} fill="none" stroke="var(--ink-3)" strokeDasharray="2 4" />
  const unmeasured = tree.assumed.includes('crown radii') || tree.assumed.includes('height')
  const limbs = limbPaths(limbsOf(tree, seed, small || pxPerM < 7 ? 3 : pxPerM > 15 ? 5 : 4), place, pxPerM)
  const fork = forkM(tree)
  const palm = tree.habit === 'palm'
  return (
    <>
      {record.group && (
        <Fellows tree={tree} place={place} lobe={lobe} count={record.group.count} seed={seed} />
      )}
      {!palm && (
        <path
          data-part="crown"
          d={outline}
          fill="var(--green)"
          stroke="var(--ink-3)"
          strokeWidth={small ? 0.8 : 1}
          strokeDasharray={unmeasured ? '5 3' : undefined}
        />
      )}
      <g fill="none" stroke="var(--ink-2)" strokeLinecap="round" opacity={0.8}>
        {limbs.map(({ d, widthPx }) => (
          <path key={widthPx} d={d} strokeWidth={n(widthPx)} />
        ))}
        {!palm &&
          hangings(tree, seed).map((line) => (
            <path key={line.flat().map(n).join()} d={curve(line, place)} strokeWidth={0.7} opacity={0.7} />
          ))}
      </g>
      {record.stems.length > 1 ? (
        <Stems tree={tree} place={place} pxPerM={pxPerM} topM={fork} record={record} />
      ) : (
        <Stem
          tree={tree}
          place={place}
          topM={fork}
          pxPerM={pxPerM}
          taper={tree.habit === 'conical' ? 0.12 : 0.82}
        />
      )}
      {palm && <Fronds tree={tree} place={place} seed={seed} />}
    </>
  )
}

const curve = ([a, b, c]: Point[], place: Place): string =>
  `M${place(...a!)
    .map(n)
    .join(' ')}Q${place(...b!)
    .map(n)
    .join(' ')} ${place(...c!)
    .map(n)
    .join(' ')}`

/** Stems side by side from one foot, each as thick as it is. */
function Stems({
  tree,
  place,
  pxPerM,
  topM,
  record,
}: {
  tree: Drawn
  place: Place
  pxPerM: number
  topM: number
  record: PortraitTree
}) {
  const shown = [...record.stems].sort((a, b) => a.diameterCm - b.diameterCm).slice(-5)
  const total = shown.reduce((sum, stem) => sum + stem.diameterCm / 100, 0)
  let edge = -total * 0.55
  const placed = shown.map((stem, i) => {
    const own = stem.diameterCm / 100
    const offsetM = edge + own / 2
    edge += own * 1.1
    return { key: i, own, offsetM, spread: offsetM * 1.4 }
  })
  return placed.map(({ key, own, offsetM, spread }) => (
    <Stem
      key={key}
      tree={tree}
      place={place}
      topM={topM}
      stemM={own}
      pxPerM={pxPerM}
      offsetM={offsetM}
      spread={spread}
      taper={0.6}
    />
  ))
}

/** Up to four other crowns of the group, a little lower, behind. */
function Fellows({
  tree,
  place,
  lobe,
  count,
  seed,
}: {
  tree: Drawn
  place: Place
  lobe: number
  count: number
  seed: number
}) {
  const span = (tree.eastM + tree.westM) / 2
  return [-1.05, 1.1, -0.5, 0.6].slice(0, Math.min(4, count - 1)).map((shift, i) => {
    const lower = 0.82 + 0.05 * i
    const at: Place = (east, up) => place(east * 0.8 + shift * span * 0.8, up * lower)
    const trunk = [at(0, 0), at(tree.axisM(tree.crownBaseM), tree.crownBaseM * 1.2)]
    return (
      <g key={shift} stroke="var(--ink-3)" strokeWidth={0.8} opacity={0.75}>
        <path d={pathOf(trunk)} fill="none" strokeWidth={2} />
        <path d={crownPath(tree, at, lobe, seed + i + 1)} fill="var(--green)" />
      </g>
    )
  })
}

function Fronds({ tree, place, seed }: { tree: Drawn; place: Place; seed: number }) {
  const leaves = hangings(tree, seed).map((points) => {
    const [a, b, c] = points.map(([x, y]) => place(x, y)) as [Point, Point, Point]
    const lift = Math.max(2, Math.abs(c[0] - a[0]) * 0.12 + 2)
    const at = (p: Point, dy = 0) => `${n(p[0])} ${n(p[1] + dy)}`
    return `M${at(a)}Q${at(b, -lift)} ${at(c)}Q${at(b, lift)} ${at(a)}Z`
  })
  return (
    <path
      data-part="crown"
      d={leaves.join('')}
      fill="var(--green)"
      stroke="var(--ink-3)"
      strokeLinejoin="round"
    />
  )
}
