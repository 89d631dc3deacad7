import type { Refusal, Site } from '@underbough/model'
import { useState } from 'react'
import { refusalsOf, useSites } from '../api/index.ts'
import {
  Button,
  Dialog,
  Empty,
  ErrorNote,
  Field,
  Loading,
  NumberField,
  Plate,
  Refusals,
  refusalAt,
} from '../look/index.ts'
import { usePerson } from '../shell/index.ts'
import { ContactsPart, contactsOf } from './ContactsPart.tsx'
import { useKeepSite } from './hooks.ts'
import { WindRose, windSays } from './WindRose.tsx'

/** Parks, estates and street districts: their hours, their wind, and how far ways turn there. */
export function SitesPart() {
  const me = usePerson()
  const sites = useSites()
  const [edited, setEdited] = useState<Site | null>(null)
  if (sites.error)
    return (
      <ErrorNote
        title="The sites cannot be fetched."
        error={sites.error}
        action={<Button onPress={() => sites.refetch()}>Try again</Button>}
      />
    )
  if (!sites.data) return <Loading>Fetching the sites.</Loading>
  if (sites.data.length === 0)
    return <Empty title="No site yet.">A site is a park, an estate or a district of streets.</Empty>
  return (
    <Plate title="Sites">
      <table className="sites-table">
        <thead>
          <tr>
            <th>Site</th>
            <th>Strong gusts from</th>
            <th>Whom to call</th>
            <th>Time zone</th>
            <th className="n">Way over straight line</th>
            <th>
              <span className="out-of-sight">Change</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {sites.data.map((site) => (
            <tr key={site.id}>
              <td className="b">{site.name}</td>
              <td>
                {site.windRose ? (
                  <span className="row c site-wind">
                    <WindRose rose={site.windRose} /> {windSays(site.windRose)}
                  </span>
                ) : (
                  'not known: every bearing alike'
                )}
              </td>
              <td>{site.contacts.map(({ name }) => name).join(', ') || 'nobody entered yet'}</td>
              <td>{site.timeZone ?? `${me.organisation.timeZone}, as the organisation`}</td>
              <td className="n">{site.detourFactor}</td>
              <td className="n">
                <Button aria-label={`Change ${site.name}`} onPress={() => setEdited(site)}>
                  Change
                </Button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {edited ? <SiteForm site={edited} onClose={() => setEdited(null)} /> : null}
    </Plate>
  )
}

function SiteForm({ site, onClose }: { site: Site; onClose(): void }) {
  const keep = useKeepSite()
  const [name, setName] = useState(site.name)
  const [timeZone, setTimeZone] = useState(site.timeZone ?? '')
  const [detourFactor, setDetour] = useState<number | null>(site.detourFactor)
  const [contacts, setContacts] = useState(site.contacts)
  const [unfit, setUnfit] = useState<readonly Refusal[]>([])
  const refusals = [...unfit, ...refusalsOf(keep.error)]
  const send = () => {
    const read = contactsOf(contacts)
    setContacts(read.contacts)
    setUnfit(read.refusals)
    if (read.refusals.length > 0) return
    keep.mutate(
      {
        ...site,
        name,
        timeZone: timeZone.trim() || null,
        detourFactor: detourFactor ?? 1,
        contacts: read.contacts,
      },
      { onSuccess: onClose },
    )
  }
  return (
    <Dialog
      title={site.name}
      isOpen
      onClose={onClose}
      actions={
        <>
          <Button
            kind="do"
            isDisabled={keep.isPending || !name.trim() || detourFactor === null}
            onPress={send}
          >
            Keep
          </Button>
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <Refusals title="The site was not kept." refusals={refusals} kept="It stands as it was." />
      <Field label="Name" value={name} refusal={refusalAt(refusals, 'name')} onChange={setName} />
      <Field
        label="Time zone"
        value={timeZone}
        hint="Empty where it is the organisation’s. Otherwise its name, such as Europe/Berlin."
        refusal={refusalAt(refusals, 'timeZone')}
        onChange={setTimeZone}
      />
      <NumberField
        label="Way on the ground over the straight line"
        unit="times"
        value={detourFactor}
        hint="From 1 to 4; 1.3 is usual for streets."
        refusal={refusalAt(refusals, 'detourFactor')}
        onChange={setDetour}
      />
      <ContactsPart contacts={contacts} onChange={setContacts} refusals={refusals} />
    </Dialog>
  )
}
