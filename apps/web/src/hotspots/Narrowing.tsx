import { type ZoneKind, zoneKinds } from '@underbough/model'
import { zoneNames } from '@underbough/pictures'
import { useSites } from '../api/index.ts'
import { capital, Select, Tick, Words } from '../look/index.ts'
import type { Order, SpotKind, SpotQuestion } from './hooks.ts'
import { orderNames } from './ranking.ts'

const orders: readonly Order[] = ['one', 'rated', 'rating', 'expected']

type Asked = Omit<SpotQuestion, 'within'>

/** What is ranked, by what, and where. */
export function Narrowing({
  asked,
  order,
  withExpected,
  onlyHere,
  onAsk,
  onOnlyHere,
}: {
  asked: Asked
  order: Order
  /** The organisation has decided for the estimate, so that its order can be chosen. */
  withExpected: boolean
  onlyHere: boolean
  onAsk(asked: Asked, order: Order): void
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
        onChange={(of) => onAsk({ ...asked, of }, of === 'cells' ? asked.basis : order)}
      />
      <Words<Order>
        label="Ranked by"
        value={order}
        options={orders
          .filter((value) => value !== 'expected' || (withExpected && asked.of === 'zones'))
          .map((value) => ({ value, label: orderNames[value] }))}
        onChange={(value) => onAsk(value === 'expected' ? asked : { ...asked, basis: value }, value)}
      />
      <div className="hotspot-selects">
        <Select
          label="Where"
          value={asked.siteId ?? 'all'}
          options={[
            { value: 'all', label: 'All sites' },
            ...(sites.data ?? []).map(({ id, name }) => ({ value: id, label: name })),
          ]}
          onChange={(id) => onAsk({ ...asked, siteId: id === 'all' ? null : id }, order)}
        />
        {asked.of === 'zones' ? (
          <Select
            label="Kind of zone"
            value={asked.kind ?? 'all'}
            options={[
              { value: 'all', label: 'All kinds' },
              ...zoneKinds.map((kind) => ({ value: kind, label: capital(zoneNames[kind]) })),
            ]}
            onChange={(kind) => onAsk({ ...asked, kind: kind === 'all' ? null : (kind as ZoneKind) }, order)}
          />
        ) : null}
        {order === 'expected' ? null : (
          <Tick isSelected={onlyHere} onChange={onOnlyHere}>
            Only what the map shows
          </Tick>
        )}
      </div>
    </div>
  )
}
