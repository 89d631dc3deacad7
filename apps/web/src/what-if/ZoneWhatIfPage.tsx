import { exposureMethodVersion } from '@underbough/exposure'
import { ZoneSwatch, zoneNames } from '@underbough/pictures'
import { useState } from 'react'
import { useParams } from 'react-router'
import { useMapView } from '../api/index.ts'
import {
  Button,
  capital,
  count,
  ErrorNote,
  LinkButton,
  Loading,
  Notice,
  Plate,
  Standing,
  Words,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { ProposeDialog } from '../tree/ProposeDialog.tsx'
import { MoveFields, ShutFields } from './ChangeFields.tsx'
import { Compared } from './Compared.tsx'
import { type Surroundings, useSurroundings } from './hooks.ts'
import { carryBetween, nothing } from './reckon.ts'
import { sayRemaining } from './say.ts'
import { TreesCompared } from './TreesCompared.tsx'
import {
  type Change,
  cautions,
  FURTHEST_M,
  first,
  heaviest,
  isTried,
  sayTried,
  sayWhole,
  type Tried,
  useCompared,
  within,
} from './trial.ts'
import { ZoneTrialMap } from './ZoneTrialMap.tsx'
import '../ground/ground.css'
import '../hotspots/hotspots.css'
import './what-if.css'

/** What moving a zone, closing it at gust warnings or changing its hours would do, before anything is kept. */
export default function ZoneWhatIfPage() {
  const { id = '' } = useParams()
  const around = useSurroundings(id, FURTHEST_M)
  if (around.data) return <Trial key={id} around={around.data} />
  if (!around.error) return <Loading>Fetching the zone and its trees.</Loading>
  return (
    <div className="page">
      <ErrorNote
        title="This zone cannot be tried."
        error={around.error}
        action={<Button onPress={() => around.refetch()}>Try again</Button>}
      />
    </div>
  )
}

function Trial({ around }: { around: Surroundings }) {
  const { zone } = around
  const [tried, setTried] = useState(first)
  const [refused, setRefused] = useState<string | null>(null)
  const [proposing, setProposing] = useState(false)
  const [proposed, setProposed] = useState(false)
  const view = useMapView()
  const { role } = usePerson()
  const set = (part: Partial<Tried>) => {
    setTried((last) => ({ ...last, ...part }))
    setProposed(false)
  }
  const { rows, changed, current } = useCompared(around, tried)
  const worst = rows?.[0] ?? null
  const now = heaviest(rows, 'before')
  const then = heaviest(rows, 'after')
  const differs = isTried(tried)
  return (
    <div className="hotspots">
      <div className="hotspots-map">
        <h1>What if: {zone.name}</h1>
        <p className="prose q what-if-zone">
          <ZoneSwatch kind={zone.kind} widthPx={24} heightPx={14} hidden />
          <span>
            {capital(zoneNames[zone.kind])}, {Math.round(zone.areaM2).toLocaleString('en-GB')} m².{' '}
            {tried.change === 'move'
              ? 'Drag it on the map, or type how far and which way. Broken line: where it stands.'
              : 'Its trees are named on the map.'}
          </span>
        </p>
        {view.data ? (
          <ZoneTrialMap
            bounds={view.data.bounds}
            zone={zone}
            changed={changed}
            carries={tried.change === 'move'}
            rows={rows ?? []}
            onCarried={(geometry) => {
              setRefused(null)
              set({ moved: within(carryBetween(zone.geometry, geometry)) })
            }}
            onRefused={setRefused}
          />
        ) : null}
      </div>
      <aside className="hotspots-side" aria-label="The change and what it would do">
        <Plate title="The change" aside="tried out, nothing is kept">
          <Words<Change>
            label="What is tried"
            value={tried.change}
            options={[
              { value: 'move', label: 'Move it' },
              { value: 'gusts', label: 'Close it at gust warnings' },
              { value: 'hours', label: 'Change its hours' },
            ]}
            onChange={(change) => set({ change })}
          />
          {refused && tried.change === 'move' ? <Notice tone="mind">{refused}</Notice> : null}
          {tried.change === 'move' ? (
            <MoveFields moved={tried.moved} furthestM={FURTHEST_M} onChange={(moved) => set({ moved })} />
          ) : (
            <ShutFields
              change={tried.change}
              share={tried.shutShare}
              hours={tried.hours}
              onShare={(shutShare) => set({ shutShare })}
              onHours={(hours) => set({ hours })}
            />
          )}
        </Plate>
        <Plate
          title="What it would change"
          aside={current && rows ? 'given that the tree falls' : 'reckoning …'}
        >
          {rows === null ? (
            <Loading>Reckoning each tree.</Loading>
          ) : rows.length === 0 ? (
            <p className="q">No tree reaches it, here or where it would be, as far as heights are known.</p>
          ) : (
            <>
              <p className="prose what-if-says" aria-live="polite">
                <b>{differs ? sayWhole(rows, now, then) : 'Nothing is changed yet.'}</b>
              </p>
              <Compared
                before={now?.before ?? nothing}
                after={then?.after ?? nothing}
                touched="it, of the tree that bears most"
              />
              <TreesCompared rows={rows} zoneName={zone.name} />
              {around.cut ? (
                <p className="s q">
                  Only the {count(around.trees.length, 'tree')} nearest to it are reckoned.
                </p>
              ) : null}
            </>
          )}
          <p className="what-if-mind s">
            {cautions[tried.change]} It says who would be under a fall, not whether one comes; figures of
            several trees are not added, for each is given that this one falls. Local law and codes decide;
            work at trees is for licensed crews. Nothing is kept unless it is proposed.
          </p>
          <div className="row c wrap hotspot-presses">
            {role === 'officer' || role === 'inspector' ? (
              <Button
                kind="do"
                isDisabled={!differs || !worst || !current}
                onPress={() => setProposing(true)}
              >
                Propose as a work
              </Button>
            ) : (
              <p className="s q">An officer or an inspector can propose it as a work.</p>
            )}
            <Button kind="quiet" onPress={() => set({ ...first, change: tried.change })}>
              As it stands
            </Button>
            <LinkButton className="sp" to={`/ground?zone=${zone.id}`}>
              Back to the ground
            </LinkButton>
          </div>
          {proposed && worst ? (
            <Notice tone="kept" title="It is proposed.">
              It stands among the works of {worst.tree.tag}.
            </Notice>
          ) : null}
        </Plate>
        <Standing small />
      </aside>
      {proposing && worst ? (
        <ProposeDialog
          treeId={worst.tree.id}
          tried={{
            treeName: `${worst.tree.tag}, the tree that bears most on it`,
            kind: tried.change === 'move' ? 'move-target' : 'close-area',
            words: `${capital(sayTried(tried, zone.name))}. Under ${worst.tree.tag}: ${sayRemaining(worst.before, worst.after, exposureMethodVersion, 'the outline')}`,
          }}
          onClose={() => setProposing(false)}
          onProposed={() => {
            setProposing(false)
            setProposed(true)
          }}
        />
      ) : null}
    </div>
  )
}
