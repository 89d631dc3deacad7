import { type ZoneKind, zoneKinds } from '@underbough/model'
import { zoneNames } from '@underbough/pictures'
import { useSites } from '../api/index.ts'
import { capital, Select, Tick, Words } from '../look/index.ts'
import type { Basis, SpotKind, SpotQuestion } from './hooks.ts'
import { basisNames } from './ranking.ts'

type Asked = Omit<SpotQuestion, 'within'>

/** What is ranked, by what, and where. */
export function Narrowing({
  asked,
  onlyHere,
  onAsk,
  onOnlyHere,
}: {
  asked: Asked
  onlyHere: boolean
  onAsk(asked: Asked): void
  onOnlyHere(on: boolean): void
}) {
  const sites = useSites()
  return (
    <div className="hotspot-narrowing">
      <Words<SpotKind>
        label="What is ranked"
        value={asked.of}
        options={[
          { value: 'zones', label: 'Zones' },
          { value: 'cells', label: 'Cells of a grid' },
        ]}
        onChange={(of) => onAsk({ ...asked, of })}
      />
      <Words<Basis>
        label="Ranked by"
        value={asked.basis}
        options={(['one', 'rated', 'rating'] as const).map((value) => ({ value, label: basisNames[value] }))}
        onChange={(basis) => onAsk({ ...asked, basis })}
      />
      <div className="hotspot-selects">
        <Select
          label="Where"
          value={asked.siteId ?? 'all'}
          options={[
            { value: 'all', label: 'All sites' },
            ...(sites.data ?? []).map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(id) => onAsk({ ...asked, siteId: id === 'all' ? null : id })}
        />
        {asked.of === 'zones' ? (
          <Select
            label="Kind of zone"
            value={asked.kind ?? 'all'}
            options={[
              { value: 'all', label: 'All kinds' },
              ...zoneKinds.map((kind) => ({ value: kind, label: capital(zoneNames[kind]) })),
            ]}
            onChange={(kind) => onAsk({ ...asked, kind: kind === 'all' ? null : (kind as ZoneKind) })}
          />
        ) : null}
        <Tick isSelected={onlyHere} onChange={onOnlyHere}>
          Only what the map shows
        </Tick>
      </div>
    </div>
  )
}
