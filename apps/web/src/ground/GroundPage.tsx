import { type AreaGeometry, today as civilToday, type Position, type Zone } from '@underbough/model'
import type { Feature, Geometry, Polygon } from 'geojson'
import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { useSearchParams } from 'react-router'
import {
  type MapView,
  refusalsOf,
  type TreeRow,
  useDueStrip,
  useGroundFeatures,
  useKeepTree,
  useKeepZone,
  useMapView,
  useSites,
  useTilesVersion,
  useTree,
  useTreeExposure,
} from '../api/index.ts'
import {
  Button,
  count,
  Empty,
  ErrorNote,
  LinkButton,
  Loading,
  Notice,
  Refusals,
  riskRank,
  useGround,
} from '../look/index.ts'
import {
  type Bounds,
  GroundMap,
  type MapPicture,
  type MapPort,
  type MapTool,
  type MapTree,
  passes,
  type SelectedTree,
  squaresOver,
} from '../map/index.ts'
import { mayChange as roleMayChange, usePerson } from '../shell/index.ts'
import {
  type Brush,
  brushDays,
  countWeeks,
  firstBrush,
  narrowWeeks,
  spanOf,
  sumWithin,
  totalOf,
} from './brush.ts'
import { DueFoot } from './DueFoot.tsx'
import { DueList } from './DueList.tsx'
import { Key } from './Key.tsx'
import { keepView, keptView } from './keptView.ts'
import { NarrowMenu } from './NarrowMenu.tsx'
import {
  countable,
  isWide,
  mapFilter,
  mapTreeOf,
  type Narrowing,
  namesOf,
  openNarrowing,
  sayNarrowing,
} from './narrow.ts'
import { ToolWords } from './ToolWords.tsx'
import { TreeForm } from './TreeForm.tsx'
import { TreeLeaf } from './TreeLeaf.tsx'
import { useRounds } from './useRounds.ts'
import { ZoneForm } from './ZoneForm.tsx'
import { ZoneLeaf } from './ZoneLeaf.tsx'
import './ground.css'

const noVersion = { trees: '', ground: '' }

/** Where the officer stands: the whole ground, weeks ahead. */
export default function GroundPage() {
  const view = useMapView()
  const version = useTilesVersion()
  if (view.error) return <Unreached error={view.error} again={view.refetch} />
  if (!view.data || (!version.data && !version.error)) return <Loading>Unrolling the map.</Loading>
  return <Ground bounds={view.data.bounds} start={startOf(view.data)} version={version.data ?? noVersion} />
}

/** Where this device looked last; else the whole ground. */
function startOf({ bounds }: MapView): Bounds {
  const kept = keptView()
  const [w, s, e, n] = bounds
  const within = kept && kept[0] < e && kept[2] > w && kept[1] < n && kept[3] > s
  return within ? kept : bounds
}

function Unreached({ error, again }: { error: unknown; again(): void }) {
  return (
    <div className="page">
      <ErrorNote
        title="The map cannot be fetched."
        error={error}
        action={
          <Button kind="do" onPress={again}>
            Try again
          </Button>
        }
      />
    </div>
  )
}

/** What is chosen stands in the address, so that a place can be sent to somebody. */
function useChosen() {
  const [words, setWords] = useSearchParams()
  const choose = useCallback(
    (what: 'tree' | 'zone' | null, id = '') => setWords(what ? { [what]: id } : {}, { replace: false }),
    [setWords],
  )
  return { treeId: words.get('tree'), zoneId: words.get('zone'), at: words.get('at'), choose }
}

function useSelectedTree(treeId: string | null): SelectedTree | null {
  const { data } = useTree(treeId)
  return useMemo(() => {
    if (!data || data.tree.id !== treeId) return null
    const { tree, risk, overdueDays, seen } = data
    return {
      id: tree.id,
      position: tree.position,
      risk: riskRank(risk),
      overdue: overdueDays > 0,
      seen,
      status: tree.status,
    }
  }, [data, treeId])
}

/** The weeks as the view leaves them: from the server where it counted them, from the trees at hand where it could not. */
function useWeeks(narrowing: Narrowing) {
  const strip = useDueStrip({
    weeksBack: 8,
    weeksAhead: 52,
    siteId: narrowing.siteId,
    names: namesOf(narrowing),
    seen: narrowing.neverSeen ? false : undefined,
  })
  const [brush, setBrush] = useState<Brush | null | undefined>(undefined)
  const span = strip.data ? spanOf(strip.data.weeks) : null
  const shown =
    brush === undefined && strip.data && span ? firstBrush(strip.data.thisWeek, span) : (brush ?? null)
  return { strip, span, brush: shown, setBrush }
}

// The page's own wiring is one function: what is chosen, narrowed, lassoed and drawn meet on one map.
function Ground({
  bounds,
  start,
  version,
}: {
  bounds: Bounds
  start: Bounds
  version: { trees: string; ground: string }
}) {
  const me = usePerson()
  const mayChange = roleMayChange(me.role)
  const mode = useGround()
  const { treeId, zoneId, at, choose } = useChosen()
  const sites = useSites()
  const features = useGroundFeatures(bounds)
  const [narrowing, setNarrowing] = useState(openNarrowing)
  const { strip, span, brush, setBrush } = useWeeks(narrowing)
  const [tool, setTool] = useState<MapTool>('move')
  const [lasso, setLasso] = useState<Polygon | null>(null)
  const [lassoed, setLassoed] = useState<MapTree[]>([])
  const [inView, setInView] = useState<MapTree[]>([])
  const [cells, setCells] = useState(false)
  const [measuredM, setMeasured] = useState<number | null>(null)
  const [drawnZone, setDrawnZone] = useState<Polygon | null>(null)
  const [newTree, setNewTree] = useState<Position | null>(null)
  const [edited, setEdited] = useState<Zone | null>(null)
  const [sentence, setSentence] = useState<string | null>(null)
  const map = useRef<MapPort>(null)
  const keepZone = useKeepZone()
  const keepTree = useKeepTree()

  const today = strip.data?.today ?? civilToday(me.organisation.timeZone)
  const rounds = useRounds(strip.data?.today ?? null)
  const squares = useMemo(() => squaresOver(bounds), [bounds])
  const selected = useSelectedTree(treeId)
  const exposure = useTreeExposure(treeId)
  const whole = useTree(treeId)

  const site = sites.data?.find((s) => s.id === narrowing.siteId) ?? null
  const filter = useMemo(
    () =>
      mapFilter(narrowing, {
        weeks: brush && span ? brushDays(brush, span) : undefined,
        lasso,
      }),
    [narrowing, brush, span, lasso],
  )
  const weeks = useMemo(() => {
    const all = strip.data?.weeks ?? []
    const open = { ...filter, weeks: undefined }
    if (lasso) return countWeeks(lassoed.filter((t) => passes(open, t)).map(countable), all)
    return narrowWeeks(all, {
      risks: narrowing.risks.length > 0 ? narrowing.risks : undefined,
      overdue: narrowing.overdue,
    })
  }, [strip.data, filter, lasso, lassoed, narrowing])

  const picture: MapPicture = useMemo(
    () => ({
      ground: mode,
      version,
      filter,
      selectedTree: selected,
      selectedZoneId: edited ? null : zoneId,
      fall: treeId && exposure.data ? exposure.data.outline : null,
      routes: rounds.routes,
      lasso,
      extra: null,
      features: features.data ?? null,
      markScale: 1,
    }),
    [
      mode,
      version,
      filter,
      selected,
      edited,
      zoneId,
      treeId,
      exposure.data,
      rounds.routes,
      lasso,
      features.data,
    ],
  )

  const ready = map.current !== null
  // biome-ignore lint/correctness/useExhaustiveDependencies: goes where the address says, once for each place
  useEffect(() => {
    const place = at?.split(',').map(Number)
    if (place?.length === 2 && place.every(Number.isFinite)) map.current?.goTo([place[0]!, place[1]!], 17)
  }, [at, ready])
  const goTo = selected?.id
  // biome-ignore lint/correctness/useExhaustiveDependencies: goes to a tree when it is chosen, not when it changes
  useEffect(() => {
    if (!selected || !map.current) return
    const known = inView.some((t) => t.id === selected.id)
    // Below 900 px the leaf is a sheet over the foot of the map: the tree is lifted above it.
    const sheet = window.innerWidth < 900
    if (!known || cells || sheet)
      map.current.goTo(selected.position, 17, sheet ? window.innerHeight * 0.16 : 0)
  }, [goTo, ready])

  const putAway = () => {
    setTool('move')
    setEdited(null)
    setMeasured(null)
  }
  const drawn = (made: MapTool, geometry: Geometry) => {
    setSentence(null)
    if (made === 'lasso' && geometry.type === 'Polygon') {
      setLasso(geometry)
      setLassoed(map.current?.trees(geometry) ?? [])
    }
    if (made === 'draw-zone' && geometry.type === 'Polygon') setDrawnZone(geometry)
    if (made === 'add-tree' && geometry.type === 'Point') setNewTree(geometry.coordinates as Position)
    if (made === 'move-tree' && geometry.type === 'Point' && whole.data) {
      const { id, version: stored, createdAt: _c, updatedAt: _u, sourceKey: _s, ...input } = whole.data.tree
      keepTree.mutate({ ...input, id, version: stored, position: geometry.coordinates as Position })
    }
    if (made === 'edit-zone' && edited && geometry.type === 'Polygon') {
      const { areaM2: _a, createdAt: _c, updatedAt: _u, ...zone } = edited
      keepZone.mutate({ ...zone, geometry: geometry as AreaGeometry })
    }
    putAway()
  }
  const held: Feature | undefined = useMemo(
    () => (edited ? { type: 'Feature', properties: {}, geometry: edited.geometry as Geometry } : undefined),
    [edited],
  )
  const refusals = [...refusalsOf(keepZone.error), ...refusalsOf(keepTree.error)]
  const brushedHere = inView.filter(
    (t) => passes(filter, t) && (t.status === 'standing' || t.status === 'pole'),
  ).length
  const narrowedWords = lasso
    ? `Only the lassoed ${count(lassoed.length, 'tree')}`
    : isWide(narrowing)
      ? null
      : `Only ${sayNarrowing(narrowing, sites.data ?? [])}`
  const letAllGo = () => {
    setLasso(null)
    setNarrowing(openNarrowing)
  }
  const chosen = treeId ? (
    <TreeLeaf
      key={treeId}
      treeId={treeId}
      today={today}
      squareOf={squares.squareOf}
      planned={rounds.plannedOf(treeId)}
      onLetGo={() => choose(null)}
      onMove={mayChange ? () => setTool('move-tree') : undefined}
    />
  ) : zoneId ? (
    <ZoneLeaf
      key={zoneId}
      zoneId={zoneId}
      mayChange={mayChange}
      onLetGo={() => choose(null)}
      onTree={(id) => choose('tree', id)}
      onEditOutline={(zone) => {
        setEdited(zone)
        setTool('edit-zone')
      }}
    />
  ) : null

  return (
    <div className={chosen ? 'ground-page ground-chosen' : 'ground-page'}>
      <h1 className="out-of-sight">Ground</h1>
      <div className="map-side">
        <ToolWords
          tool={tool}
          mayChange={mayChange}
          mayAdd={mayChange || me.role === 'inspector'}
          measuredM={measuredM}
          words={
            cells
              ? 'Many trees in one disc: come closer to see each.'
              : inView.some((t) => t.thin)
                ? 'The worst tree of each small square: come closer to see every one.'
                : sayInView(
                    brushedHere,
                    totalOf(sumWithin(weeks, brush)),
                    brush !== null,
                    lasso !== null || !isWide(narrowing),
                  )
          }
          onTool={(next) => {
            putAway()
            setSentence(null)
            setTool(next)
          }}
          onPoint={() => map.current?.pointAtMiddle()}
          onFinish={() => map.current?.finish()}
        >
          <NarrowMenu value={narrowing} sites={sites.data ?? []} onChange={setNarrowing} />
        </ToolWords>
        {sentence ? (
          <Notice tone="refused" title="That cannot be drawn.">
            {sentence}
          </Notice>
        ) : null}
        <Refusals title="It was not kept." refusals={refusals} kept="What was there stands as it was." />
        <GroundMap
          ref={map}
          label="Map of the ground. The trees due are listed beside it, the weeks below."
          ground={bounds}
          start={start}
          picture={picture}
          tool={tool}
          held={held}
          onPickTree={(tree) => choose('tree', tree.id)}
          onPickZone={(zone) => choose('zone', zone.id)}
          onPickNothing={() => (treeId || zoneId) && choose(null)}
          onDrawn={drawn}
          onRefused={(_, why) => {
            setSentence(why)
            putAway()
          }}
          onMeasured={setMeasured}
          onView={(state) => {
            setCells(state.cells)
            keepView(state.bounds)
          }}
          onIdle={(port) => setInView(port.trees())}
        />
        <Key crews={rounds.letters} />
      </div>
      {chosen ?? (
        <DueList
          brush={brush}
          narrowing={narrowing}
          first={span?.first ?? null}
          passes={(row: TreeRow) => passes({ ...filter, weeks: undefined }, mapTreeOf(row))}
          squareOf={squares.squareOf}
          onTree={(row) => choose('tree', row.id)}
          onShowAll={() => setBrush(null)}
        />
      )}
      <Foot
        strip={strip}
        weeks={weeks}
        brush={brush}
        onBrush={setBrush}
        crews={rounds.crews}
        narrowed={narrowedWords}
        onLetGo={letAllGo}
      />
      {drawnZone ? (
        <ZoneForm
          drawn={drawnZone as AreaGeometry}
          siteId={site?.id ?? null}
          onClose={() => setDrawnZone(null)}
          onKept={(zone) => choose('zone', zone.id)}
        />
      ) : null}
      {newTree ? (
        <TreeForm
          position={newTree}
          siteId={site?.id ?? null}
          square={squares.squareOf(newTree[0], newTree[1])}
          onClose={() => setNewTree(null)}
          onKept={(tree) => choose('tree', tree.id)}
        />
      ) : null}
    </div>
  )
}

/** `4 of the 20 brushed trees are in this view. Dots: trees due in other weeks.` */
function sayInView(here: number, all: number, brushed: boolean, narrowed: boolean): string {
  if (!brushed && !narrowed) return `${count(here, 'tree')} in this view.`
  const what = narrowed ? 'chosen' : 'brushed'
  const dots = narrowed ? 'the others' : 'trees due in other weeks'
  if (here === all)
    return `${all === 1 ? `The ${what} tree is` : `All ${all.toLocaleString('en-GB')} ${what} trees are`} in this view. Dots: ${dots}.`
  return `${here.toLocaleString('en-GB')} of the ${all.toLocaleString('en-GB')} ${what} trees ${here === 1 ? 'is' : 'are'} in this view. Dots: ${dots}.`
}

type FootProps = Omit<Parameters<typeof DueFoot>[0], 'strip'> & { strip: ReturnType<typeof useDueStrip> }
function Foot({ strip, ...rest }: FootProps) {
  if (strip.data && strip.data.weeks.length > 0) return <DueFoot {...rest} strip={strip.data} />
  return (
    <section className="due-foot" aria-label="Looks due by week">
      {strip.error ? (
        <ErrorNote
          title="The weeks cannot be fetched."
          error={strip.error}
          action={<Button onPress={() => strip.refetch()}>Try again</Button>}
        />
      ) : strip.data ? (
        <Empty
          title="No trees here yet."
          action={
            <LinkButton kind="do" to="/import">
              Bring in a list
            </LinkButton>
          }
        >
          Trees you add or bring in stand on this ground.
        </Empty>
      ) : (
        <Loading>Counting the weeks.</Loading>
      )}
    </section>
  )
}
