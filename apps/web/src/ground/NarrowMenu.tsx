import { type RiskWord, riskWords, type Site } from '@underbough/model'
import { TreeMark } from '@underbough/pictures'
import { Dialog as AriaDialog, DialogTrigger } from 'react-aria-components/Dialog'
import { Popover } from 'react-aria-components/Popover'
import { Button, capital, Field, Select, Tick } from '../look/index.ts'
import { isWide, type Narrowing, openNarrowing, sayNarrowing } from './narrow.ts'

const everywhere = 'everywhere'

/** Narrows the map and the strip: by rating, by lateness, by species, by site. */
export function NarrowMenu({
  value,
  sites,
  onChange,
}: {
  value: Narrowing
  sites: readonly Site[]
  onChange(value: Narrowing): void
}) {
  const set = (change: Partial<Narrowing>) => onChange({ ...value, ...change })
  const risks: readonly (RiskWord | 'unrated')[] = [...[...riskWords].reverse(), 'unrated']
  return (
    <span className="narrow">
      <DialogTrigger>
        <Button kind="quiet" className="tool-word">
          {isWide(value) ? 'Narrow' : `Only ${sayNarrowing(value, sites)}`}
        </Button>
        <Popover className="popover narrow-list" placement="bottom start">
          <AriaDialog aria-label="Narrow the map" className="narrow-sheet">
            {risks.map((risk) => (
              <Tick
                key={risk}
                isSelected={value.risks.includes(risk)}
                onChange={(on) =>
                  set({ risks: on ? [...value.risks, risk] : value.risks.filter((r) => r !== risk) })
                }
              >
                <span className="row c">
                  <TreeMark
                    risk={risk === 'unrated' ? null : risk}
                    visited={risk !== 'unrated'}
                    boxPx={30}
                    hidden
                  />
                  {risk === 'unrated' ? 'Not yet rated' : capital(risk)}
                </span>
              </Tick>
            ))}
            <Tick isSelected={value.overdue} onChange={(overdue) => set({ overdue })}>
              Overdue
            </Tick>
            <Tick isSelected={value.neverSeen} onChange={(neverSeen) => set({ neverSeen })}>
              Never visited
            </Tick>
            <Field
              label="Species"
              type="search"
              value={value.species}
              onChange={(species) => set({ species })}
            />
            {sites.length > 1 ? (
              <Select
                label="Site"
                value={value.siteId ?? everywhere}
                options={[
                  { value: everywhere, label: 'All sites' },
                  ...sites.map((s) => ({ value: s.id, label: s.name })),
                ]}
                onChange={(id) => set({ siteId: id === everywhere ? null : id })}
              />
            ) : null}
            <Button onPress={() => onChange(openNarrowing)} isDisabled={isWide(value)}>
              Show everything
            </Button>
          </AriaDialog>
        </Popover>
      </DialogTrigger>
    </span>
  )
}
