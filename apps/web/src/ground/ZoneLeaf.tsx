import { hoursOfZones, meanPeople } from '@underbough/exposure'
import { TreeMark, ZoneSwatch, zoneNames } from '@underbough/pictures'
import { useState } from 'react'
import { useZone, useZones, type ZoneWhole } from '../api/index.ts'
import {
  Button,
  capital,
  count,
  ErrorNote,
  Facts,
  Leaf,
  LinkButton,
  Loading,
  Standing,
  sayPeople,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { dayMeans } from './bands.ts'
import { HoursPicture } from './HoursPicture.tsx'
import { sayMonths, weeksOf } from './profile.ts'
import { ZoneForm } from './ZoneForm.tsx'

interface ZoneLeafProps {
  zoneId: string
  mayChange: boolean
  onLetGo(): void
  onTree(id: string): void
  onEditOutline(zone: ZoneWhole['zone']): void
}

/** A target zone beside the map: who is there, hour by hour, and what hangs over it. */
export function ZoneLeaf(props: ZoneLeafProps) {
  const { zoneId, onLetGo } = props
  const zone = useZone(zoneId)
  return (
    <Leaf label="The zone chosen" onClose={onLetGo}>
      {zone.data ? (
        <ZoneWords {...props} whole={zone.data} />
      ) : zone.error ? (
        <ErrorNote
          title="This zone cannot be shown."
          error={zone.error}
          action={<Button onPress={onLetGo}>Let go</Button>}
        />
      ) : (
        <Loading>Fetching the zone.</Loading>
      )}
    </Leaf>
  )
}

function ZoneWords({
  whole,
  mayChange,
  onLetGo,
  onTree,
  onEditOutline,
}: ZoneLeafProps & { whole: ZoneWhole }) {
  const [changing, setChanging] = useState(false)
  const { role } = usePerson()
  const mayLook = role === 'inspector' || role === 'officer'
  const { zone, trees, treesTotal } = whole
  const zones = useZones()
  const larger = zones.data?.find(({ id }) => id === zone.partOf)?.name
  const weeks = weeksOf(zone)
  const most = Math.max(
    ...weeks.flatMap(({ people }) => [...dayMeans(people, 'working'), ...dayMeans(people, 'weekend')]),
  )
  const mean = meanPeople(hoursOfZones([zone]).get(zone.id)!)
  return (
    <>
      <div className="row">
        <h1>{zone.name}</h1>
        <Button kind="quiet" className="line-press sp" onPress={onLetGo}>
          Let go
        </Button>
      </div>
      <div className="row c zone-kind">
        <ZoneSwatch kind={zone.kind} widthPx={24} heightPx={14} hidden />
        <span className="q">{zoneNames[zone.kind]}</span>
        <span className="sp s q">{Math.round(zone.areaM2).toLocaleString('en-GB')} m²</span>
      </div>
      <div className="zone-block">
        <h2>Who is there</h2>
        {weeks.map(({ name, months, people }) => (
          <div key={name} className="zone-week">
            {weeks.length > 1 ? (
              <h3>
                {name} <span className="q">{sayMonths(months)}</span>
              </h3>
            ) : null}
            <HoursPicture people={people} mostPeople={most} />
          </div>
        ))}
        <p className="s q">Bars: working days; broken line: weekends; hours of the day.</p>
        <Facts
          rows={[
            [
              weeks.length > 1 ? 'On average over the year' : 'On average over the week',
              `${sayPeople(mean)} people`,
            ],
            ['The trade’s word for it', zone.occupancyWord],
            ...(zone.staticTarget ? ([['A structure', 'always there']] as const) : []),
            ...(zone.groupSize && zone.groupSize > 1
              ? ([['They come by', `${Number(zone.groupSize.toFixed(1))} at a time`]] as const)
              : []),
            ...(zone.valueAtStake
              ? ([['Value that can be lost', zone.valueAtStake.toLocaleString('en-GB')]] as const)
              : []),
            ...(zone.occupancy.kind === 'vehicles' && zone.occupancy.sightDistanceM
              ? ([['A driver sees ahead', `${zone.occupancy.sightDistanceM} m`]] as const)
              : []),
            ...(zone.partOf ? ([['Its people are among those of', larger ?? 'a larger zone']] as const) : []),
            ...(zone.shelterHeightM
              ? ([
                  ['Shelter', `${zone.shelterHeightM} m${zone.shelterClass ? `, ${zone.shelterClass}` : ''}`],
                ] as const)
              : []),
          ]}
        />
      </div>
      <div className="zone-block">
        <h2>What hangs over it</h2>
        {trees.length === 0 ? (
          <p className="s q">No tree reaches it, as far as heights are known.</p>
        ) : (
          <table>
            <thead>
              <tr>
                <th colSpan={2}>{count(treesTotal, 'tree')}</th>
                <th className="n">People under a fall</th>
              </tr>
            </thead>
            <tbody>
              {trees.slice(0, 8).map((tree) => (
                <tr key={tree.id}>
                  <td className="mark-cell">
                    <TreeMark
                      risk={tree.risk}
                      visited={tree.risk !== null}
                      status={tree.status}
                      boxPx={28}
                      hidden
                    />
                  </td>
                  <td>
                    <Button kind="quiet" className="line-press" onPress={() => onTree(tree.id)}>
                      {tree.tag} {tree.commonName ?? tree.species}
                    </Button>
                    <br />
                    <span className="s q">{capital(tree.risk ?? 'not yet rated')}</span>
                  </td>
                  <td className="n">
                    {sayPeople(tree.people.mean)}
                    <br />
                    <span className="s q">
                      {sayPeople(tree.people.least)} to {sayPeople(tree.people.most)}
                    </span>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        <p className="s q">
          Given that the tree falls: the mean, and the least to the most over what turns it. It says who would
          be under a fall, not whether one comes.
        </p>
      </div>
      {mayLook && trees.length > 0 ? (
        <LinkButton to={`/zones/${zone.id}/walk-over`}>Walk over it: a limited look at each tree</LinkButton>
      ) : null}
      <LinkButton to={`/zones/${zone.id}/what-if`}>What if it were moved, or shut?</LinkButton>
      {mayChange ? (
        <div className="row c wrap leaf-presses">
          <Button kind="do" onPress={() => setChanging(true)}>
            Change who is there
          </Button>
          <Button onPress={() => onEditOutline(zone)}>Edit the outline</Button>
        </div>
      ) : null}
      <Standing small />
      {changing ? <ZoneForm zone={zone} onClose={() => setChanging(false)} onRemoved={onLetGo} /> : null}
    </>
  )
}
