import { type Contact, type Refusal, siteInput } from '@underbough/model'
import { Button, Field, refusalAt } from '../look/index.ts'

/** No more than a thumb can look through in a hurry. */
const MOST = 12
const empty: Contact = { name: '', role: '', telephone: '', note: '' }

/** Whom to call when people must be kept out of a site: in the order in which they are called. */
export function ContactsPart({
  contacts,
  onChange,
  refusals,
}: {
  contacts: readonly Contact[]
  onChange(contacts: Contact[]): void
  refusals: readonly Refusal[]
}) {
  const put = (i: number, part: Partial<Contact>) =>
    onChange(contacts.map((one, at) => (at === i ? { ...one, ...part } : one)))
  const at = (i: number, field: keyof Contact) => refusalAt(refusals, `contacts.${i}.${field}`)
  return (
    <fieldset className="site-contacts">
      <legend>Whom to call</legend>
      <p className="s q">
        Shown under the tree, without signal too, when people must be kept out. The first is called first.
      </p>
      {contacts.map((one, i) => (
        <fieldset key={i} className="site-contact" aria-label={one.name || `Person ${i + 1}`}>
          <div className="site-contact-fields">
            <Field
              label="Name"
              value={one.name}
              onChange={(name) => put(i, { name })}
              refusal={at(i, 'name')}
            />
            <Field
              label="Telephone"
              value={one.telephone}
              onChange={(telephone) => put(i, { telephone })}
              refusal={at(i, 'telephone')}
              type="tel"
              hint="As it is dialled from there"
            />
            <Field
              label="Role"
              value={one.role}
              onChange={(role) => put(i, { role })}
              refusal={at(i, 'role')}
            />
            <Field
              label="Note"
              value={one.note}
              onChange={(note) => put(i, { note })}
              refusal={at(i, 'note')}
            />
          </div>
          <div className="row c site-contact-presses">
            {i > 0 ? (
              <Button
                kind="quiet"
                aria-label={`Call ${one.name || 'this person'} earlier`}
                onPress={() => onChange(moved(contacts, i))}
              >
                Earlier
              </Button>
            ) : null}
            <Button
              kind="quiet"
              aria-label={`Take ${one.name || 'this person'} out`}
              onPress={() => onChange(contacts.filter((_, at) => at !== i))}
            >
              Take out
            </Button>
          </div>
        </fieldset>
      ))}
      {contacts.length < MOST ? (
        <Button kind="quiet" onPress={() => onChange([...contacts, { ...empty }])}>
          {contacts.length > 0 ? 'Another person' : 'Enter a person'}
        </Button>
      ) : (
        <p className="s q">Twelve people at most.</p>
      )}
    </fieldset>
  )
}

/** One place earlier. */
const moved = (contacts: readonly Contact[], i: number): Contact[] => {
  const next = [...contacts]
  next.splice(i - 1, 0, ...next.splice(i, 1))
  return next
}

/** What the office would refuse of these people, before they are sent; an empty line is left out. */
export function contactsOf(contacts: readonly Contact[]): { contacts: Contact[]; refusals: Refusal[] } {
  const said = contacts.filter((one) => Object.values(one).some((words) => words.trim() !== ''))
  const read = siteInput.shape.contacts.safeParse(said)
  if (read.success) return { contacts: read.data, refusals: [] }
  const refusals = read.error.issues.map(
    ({ path, code }): Refusal => ({
      code: code === 'too_small' ? 'required' : 'too-large',
      path: ['contacts', ...path].join('.'),
      message:
        code === 'too_small' ? `A ${String(path.at(-1))} is missing.` : 'This is longer than what is taken.',
    }),
  )
  return { contacts: said, refusals }
}
