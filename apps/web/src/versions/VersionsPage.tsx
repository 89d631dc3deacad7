import { useState } from 'react'
import { Link } from 'react-router'
import { Refused, refusalsOf } from '../api/index.ts'
import {
  Button,
  count,
  Empty,
  ErrorNote,
  LinkButton,
  Loading,
  Notice,
  Plate,
  Refusals,
  sayDate,
  sayTime,
  Words,
} from '../look/index.ts'
import { mayChange, usePerson } from '../shell/index.ts'
import type { TreeField } from '../tree/conflict.ts'
import { fieldNames, sayField } from '../tree/fieldWords.ts'
import { type Beside, type Choice, fieldsApart, type Side, stillOpen, whole } from './choice.ts'
import { useChoose, useOpenVersions } from './hooks.ts'
import './versions.css'

/** Records that two people changed from the same version: both are kept, and the office says what stands. */
export default function VersionsPage() {
  const me = usePerson()
  const versions = useOpenVersions(mayChange(me.role))
  return (
    <div className="page versions-page">
      <h1>Two versions of one tree</h1>
      {!mayChange(me.role) ? (
        <Empty title="The office chooses between versions.">Ask an officer of {me.organisation.name}.</Empty>
      ) : versions.error && !versions.data ? (
        <ErrorNote
          title="The versions cannot be fetched."
          error={versions.error}
          action={<Button onPress={() => versions.refetch()}>Try again</Button>}
        />
      ) : !versions.data ? (
        <Loading>Fetching the versions.</Loading>
      ) : versions.data.length === 0 ? (
        <Empty
          title="Nothing to choose."
          action={
            <LinkButton to="/trees" kind="do">
              All trees
            </LinkButton>
          }
        >
          When two people change one record apart from each other, both versions stand here until you choose.
        </Empty>
      ) : (
        <>
          <p className="prose q">
            Two people changed the same record, one of them without signal. Both versions are kept; nothing
            was overwritten. Choose what stands: the other stays on record.
          </p>
          {versions.data.map((one) => (
            <OneChoice key={`${one.version.id} ${one.stored.version}`} beside={one} />
          ))}
        </>
      )}
    </div>
  )
}

function OneChoice({ beside }: { beside: Beside }) {
  const { version, stored } = beside
  const fields = fieldsApart(beside)
  const [choice, setChoice] = useState<Choice>({})
  const choose = useChoose()
  const open = stillOpen(fields, choice)
  const moved = choose.error instanceof Refused && choose.error.current !== undefined
  const name = `${stored.tag} ${stored.commonName ?? stored.species}`
  return (
    <Plate
      title={<Link to={`/trees/${stored.id}`}>{name}</Link>}
      aside={`both from version ${version.fromVersion}`}
      className="version"
    >
      <dl className="version-who">
        <div>
          <dt>As stored</dt>
          <dd>
            version {stored.version}, kept {sayDate(stored.updatedAt.slice(0, 10))} at{' '}
            {sayTime(stored.updatedAt)}
          </dd>
        </div>
        <div>
          <dt>As {version.personName} entered it</dt>
          <dd>
            {sayDate(version.madeAt.slice(0, 10))} at {sayTime(version.madeAt)}, here{' '}
            {sayDate(version.receivedAt.slice(0, 10))} at {sayTime(version.receivedAt)}
          </dd>
        </div>
      </dl>
      {fields.length === 0 ? (
        <p>The two say the same now.</p>
      ) : (
        <ul className="version-fields">
          {fields.map((field) => (
            <FieldRow
              key={field}
              field={field}
              beside={beside}
              side={choice[field] ?? null}
              onChoose={(side) => setChoice({ ...choice, [field]: side })}
            />
          ))}
        </ul>
      )}
      {moved ? (
        <Notice tone="mind" title="The record has changed again since.">
          It is shown as it stands now; choose once more.
        </Notice>
      ) : (
        <Refusals
          title="The choice was not kept."
          refusals={refusalsOf(choose.error)}
          kept="Both versions are still here."
        />
      )}
      <div className="version-presses">
        <Button
          kind="do"
          isDisabled={open.length > 0 || choose.isPending}
          onPress={() => choose.mutate({ id: version.id, take: choice, version: stored.version })}
        >
          {fields.length === 0 ? 'Put it away' : 'Let these stand'}
        </Button>
        {fields.length > 1 ? (
          <>
            <Button onPress={() => setChoice(whole(fields, 'stored'))}>All as stored</Button>
            <Button onPress={() => setChoice(whole(fields, 'offered'))}>All as {version.personName}</Button>
          </>
        ) : null}
        {open.length > 0 ? <span className="q">{count(open.length, 'field')} still to choose</span> : null}
      </div>
    </Plate>
  )
}

function FieldRow(props: {
  field: TreeField
  beside: Beside
  side: Side | null
  onChoose(side: Side): void
}) {
  const { field, beside, side, onChoose } = props
  const { version, stored } = beside
  const says = (of: Side) => sayField(field, of === 'stored' ? stored[field] : version.offered[field])
  return (
    <li className="version-field">
      <span className="version-name">{fieldNames[field]}</span>
      <Words<Side | ''>
        label={`${fieldNames[field]}: which stands`}
        value={side ?? ''}
        options={[
          { value: 'stored', label: says('stored') },
          { value: 'offered', label: says('offered') },
        ]}
        onChange={(chosen) => chosen && onChoose(chosen)}
      />
    </li>
  )
}
