import { type ExposurePolicy, exposureMethodVersion } from '@underbough/exposure'
import { planeAt, type Tree, type WorkKind, type Zone } from '@underbough/model'
import { FallPlan, type Footprint } from '@underbough/pictures'
import { useMemo, useState } from 'react'
import { Link } from 'react-router'
import { type TreeWhole, useExposurePolicy, useSites } from '../api/index.ts'
import { portraitTree } from '../ground/targets.ts'
import { Button, ErrorNote, Loading, Notice, Standing, Words } from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { planZones, protectionNames } from '../tree/facts.ts'
import { ProposeDialog } from '../tree/ProposeDialog.tsx'
import { textScaleOf, useWidth } from '../tree/useWidth.ts'
import { Compared } from './Compared.tsx'
import { useZonesAround } from './hooks.ts'
import { PruneSlides } from './PruneSlides.tsx'
import { nothing, reckonTree, type Size, sizeOf, type TreeReckoned } from './reckon.ts'
import { sayChange, sayRemaining, saySize } from './say.ts'
import './what-if.css'

/** What pruning or taking down one tree would change, before anybody does it and before anything is kept. */
export default function TreeWhatIf({ whole }: { whole: TreeWhole }) {
  const { tree } = whole
  const zones = useZonesAround(tree.id)
  const sites = useSites()
  const policy = useExposurePolicy()
  const error = zones.error ?? sites.error ?? policy.error
  if (error)
    return (
      <ErrorNote
        title="This cannot be reckoned now."
        error={error}
        action={
          <Button onPress={() => Promise.all([zones.refetch(), sites.refetch(), policy.refetch()])}>
            Try again
          </Button>
        }
      />
    )
  if (!zones.data || !sites.data || !policy.data) return <Loading>Fetching the zones about it.</Loading>
  const rose = sites.data.find(({ id }) => id === tree.siteId)?.windRose ?? null
  return <Trial whole={whole} zones={zones.data} rose={rose} policy={policy.data.policy} />
}

type Change = 'prune' | 'remove'

interface TrialProps {
  whole: TreeWhole
  zones: readonly Zone[]
  rose: readonly number[] | null
  policy: ExposurePolicy
}
function Trial({ whole, zones, rose, policy }: TrialProps) {
  const { tree } = whole
  const stands = useMemo(() => sizeOf(tree, policy), [tree, policy])
  const [change, setChange] = useState<Change>('prune')
  const [size, setSize] = useState<Size | null>(stands?.size ?? null)
  const [proposing, setProposing] = useState(false)
  const [proposed, setProposed] = useState(false)
  const { role } = usePerson()
  const before = useMemo(() => reckonTree(tree, rose, zones, policy), [tree, rose, zones, policy])
  const pruned = useMemo(() => (size ? { ...tree, ...size } : tree), [tree, size])
  const after = useMemo(
    () => (change === 'remove' ? null : reckonTree(pruned, rose, zones, policy)),
    [change, pruned, rose, zones, policy],
  )
  if (!stands || !size || !before)
    return (
      <p className="q">
        Without a height or a stem nobody can say how far it reaches, so no change can be tried.
      </p>
    )
  const would = change === 'remove' ? nothing : (after?.joint ?? nothing)
  const said = change === 'prune' ? saySize(stands.size, size) : 'taken down'
  const differs = change === 'remove' || said !== ''
  const kind: WorkKind =
    change === 'remove' ? 'remove' : size.heightM < stands.size.heightM ? 'reduce' : 'prune'
  const words =
    change === 'remove'
      ? `Take the tree down. ${sayRemaining(before.joint, would, exposureMethodVersion)}`
      : `Prune: ${said}. ${sayRemaining(before.joint, would, exposureMethodVersion)}`
  return (
    <div className="what-if">
      <Words<Change>
        label="What is tried"
        value={change}
        options={[
          { value: 'prune', label: 'Prune it' },
          { value: 'remove', label: 'Take it down' },
        ]}
        onChange={(next) => {
          setChange(next)
          setProposed(false)
        }}
      />
      <div className="what-if-body">
        <div>
          {change === 'prune' ? (
            <PruneSlides
              stands={stands.size}
              assumed={stands.assumed}
              size={size}
              onChange={(next) => {
                setSize(next)
                setProposed(false)
              }}
            />
          ) : (
            <p className="prose">
              Nothing would be left to fall. Its shade, its habitat and its place in the street go with it; no
              figure here weighs them.
            </p>
          )}
        </div>
        <Plan tree={tree} pruned={pruned} zones={zones} before={before} after={after} />
        <div aria-live="polite">
          <p className="prose what-if-says">
            <b>
              {differs
                ? sayChange(before.joint, would)
                : 'Nothing is changed yet: move a slide or type a figure.'}
            </b>
          </p>
          <Compared before={before.joint} after={would} touched="a target zone" />
        </div>
      </div>
      <Cautions tree={tree} change={change} />
      <div className="row c wrap">
        {role === 'officer' || role === 'inspector' ? (
          <Button kind="do" isDisabled={!differs} onPress={() => setProposing(true)}>
            Propose as a work
          </Button>
        ) : (
          <p className="s q">An officer or an inspector can propose it as a work.</p>
        )}
        {change === 'prune' && said !== '' ? (
          <Button kind="quiet" onPress={() => setSize(stands.size)}>
            As it stands
          </Button>
        ) : null}
      </div>
      {proposed ? (
        <Notice tone="kept" title="It is proposed.">
          It stands among the works of this tree; <Link to="/works">all works</Link>.
        </Notice>
      ) : null}
      {proposing ? (
        <ProposeDialog
          treeId={tree.id}
          tried={{ treeName: `${tree.tag} ${tree.commonName ?? tree.species}`, kind, words }}
          onClose={() => setProposing(false)}
          onProposed={() => {
            setProposing(false)
            setProposed(true)
          }}
        />
      ) : null}
      <Standing small />
    </div>
  )
}

function Cautions({ tree, change }: { tree: Tree; change: Change }) {
  const kept = tree.protections.map((word) => protectionNames[word])
  return (
    <div className="what-if-mind s">
      {change === 'prune'
        ? 'Pruning wounds the tree, and large cuts let decay in. A smaller crown also takes less wind: that may be its use, and it is not in these figures. '
        : 'A stump and its roots stay, and what stood in its shelter may stand open to the wind. '}
      Nesting birds, bats and local codes decide when and how much may be cut.
      {kept.length > 0 ? ` On record here: ${kept.join(', ')}.` : ''}
      {tree.powerLinesNear ? ' Power lines are near: only crews licensed for them.' : ''} These figures say
      who would be under a fall, not whether one comes. Nothing is kept unless it is proposed.
    </div>
  )
}

function footprint(tree: Tree, reckoned: TreeReckoned): Footprint {
  const plane = planeAt(tree.position[0], tree.position[1])
  return {
    ring: reckoned.outline.map(([lon, lat]) => plane.toMetres(lon, lat)),
    bearingDeg: reckoned.outlineBearingDeg,
    reachM: reckoned.reachM,
    because: 'on its likeliest bearing',
  }
}

function Plan({
  tree,
  pruned,
  zones,
  before,
  after,
}: {
  tree: Tree
  pruned: Tree
  zones: readonly Zone[]
  before: TreeReckoned
  after: TreeReckoned | null
}) {
  const [box, width] = useWidth()
  const heaviest = before.zones
    .filter(({ figures }) => figures.pTouch.most > 0)
    .sort((a, b) => b.figures.people.mean - a.figures.people.mean)
    .flatMap(({ id }) => zones.find((zone) => zone.id === id) ?? [])
  const was = footprint(tree, before)
  return (
    <figure ref={box} className="what-if-plan">
      {width > 0 ? (
        <FallPlan
          tree={portraitTree(after ? pruned : { ...tree, status: 'stump' })}
          zones={planZones(
            tree.position,
            heaviest.map((zone) => ({ ...zone, zoneId: zone.id }) as never),
          )}
          footprint={after ? footprint(tree, after) : null}
          was={{ tree: portraitTree(tree), ring: was.ring }}
          widthPx={width}
          maxHeightPx={400}
          textScale={textScaleOf(window.innerWidth)}
        />
      ) : null}
      <figcaption className="caption">
        Dotted: crown and fall as it stands.{after ? ' Hatched: as it would be.' : ''} Each on its likeliest
        bearing.
      </figcaption>
    </figure>
  )
}
