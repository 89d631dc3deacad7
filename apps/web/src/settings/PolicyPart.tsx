import type { Refusal } from '@underbough/model'
import { checkPolicy, type Policy, type PolicyDraft } from '@underbough/rating'
import { useEffect, useMemo, useState } from 'react'
import { hasEnded, refusalsOf, useJob } from '../api/index.ts'
import {
  Button,
  count,
  ErrorNote,
  Field,
  Loading,
  Notice,
  Plate,
  Refusals,
  refusalAt,
  Standing,
} from '../look/index.ts'
import { useDatesMoved, useKeepPolicy, usePolicy } from './hooks.ts'
import { PolicyTableEdit } from './PolicyTableEdit.tsx'
import { changedCells, nextEdition, policyTables, refusalsOfTable } from './policy.ts'
import { SeasonFields } from './SeasonFields.tsx'

/** The policy in force, and the next edition while it is written. */
export function PolicyPart() {
  const policy = usePolicy()
  const keep = useKeepPolicy()
  if (policy.error)
    return (
      <ErrorNote
        title="The policy cannot be fetched."
        error={policy.error}
        action={<Button onPress={() => policy.refetch()}>Try again</Button>}
      />
    )
  if (!policy.data) return <Loading>Fetching the policy.</Loading>
  return (
    <>
      <Redating jobId={keep.data?.jobId ?? null} />
      <PolicyEdit key={policy.data.edition} stored={policy.data} keep={keep} />
    </>
  )
}

function PolicyEdit({ stored, keep }: { stored: Policy; keep: ReturnType<typeof useKeepPolicy> }) {
  const [draft, setDraft] = useState<PolicyDraft>(() => stored as PolicyDraft)
  const [edition, setEdition] = useState(() => nextEdition(stored.edition))
  const own = useMemo(() => checkPolicy(draft), [draft])
  const changed = changedCells(stored as PolicyDraft, draft)
  const touched = draft !== (stored as PolicyDraft)
  const given = refusalsOf(keep.error)
  const refusals = merged(own, given)
  const elsewhere = given.filter((r) =>
    policyTables.every((table) => refusalsOfTable([r], table).length === 0),
  )
  const sameName = edition.trim() === stored.edition
  const set = (next: PolicyDraft) => {
    keep.reset()
    setDraft(next)
  }
  return (
    <>
      <div className="policy-head">
        <p className="prose">
          In force: edition <b>{stored.edition}</b>. A change becomes a new edition; older editions stay, and
          every due date says which one made it. No published text gives such a table: these figures are the
          organisation’s own.
        </p>
      </div>
      {touched ? (
        <div className="policy-keep" role="region" aria-label="The new edition">
          <Notice tone="mind" title="Changed here, not kept:">
            {changed.length > 0 ? `${count(changed.length, 'cell')} of the tables` : 'season or sizes'}.
            {own.length > 0 ? ` ${count(own.length, 'case')} out of order, marked at its cell.` : ''}
          </Notice>
          <Field
            label="Name of the new edition"
            value={edition}
            onChange={setEdition}
            refusal={
              sameName
                ? 'This edition is in force. Give the new one a name of its own.'
                : refusalAt(given, 'edition')
            }
          />
          <Button
            kind="do"
            isDisabled={own.length > 0 || sameName || !edition.trim() || keep.isPending}
            onPress={() => keep.mutate({ ...draft, edition: edition.trim() })}
          >
            Keep as a new edition
          </Button>
          <Button onPress={() => set(stored as PolicyDraft)}>Put back</Button>
        </div>
      ) : null}
      <Refusals
        title="The new edition was not kept."
        refusals={elsewhere.length > 0 ? elsewhere : given.slice(0, 1)}
        kept={`Edition ${stored.edition} stays in force.`}
      />
      <div className="policy-tables">
        {policyTables.map((table) => (
          <Plate key={table.id} title={table.title} aside={table.unit} className={`policy-${table.id}`}>
            <p className="s q">{table.says}</p>
            <PolicyTableEdit
              table={table}
              policy={draft}
              stored={stored as PolicyDraft}
              refusals={refusalsOfTable(refusals, table)}
              onChange={set}
            />
          </Plate>
        ))}
        <Plate title="Season and sizes">
          <SeasonFields policy={draft} refusals={refusals} onChange={set} />
        </Plate>
      </div>
      <Standing />
    </>
  )
}

/** What the rules say here and what the server said, each case once. */
function merged(own: readonly Refusal[], given: readonly Refusal[]): Refusal[] {
  const key = (r: Refusal) => `${r.code} ${r.path} ${r.message}`
  const known = new Set(own.map(key))
  return [...own, ...given.filter((r) => !known.has(key(r)))]
}

/** After an edition was kept every date is reckoned anew; this says how far that is. */
function Redating({ jobId }: { jobId: string | null }) {
  const job = useJob(jobId)
  const moved = useDatesMoved()
  const ended = job.data !== undefined && hasEnded(job.data)
  // biome-ignore lint/correctness/useExhaustiveDependencies: once, when the job has ended
  useEffect(() => {
    if (ended) moved()
  }, [ended])
  if (!jobId || !job.data) return null
  const { state, done, total } = job.data
  if (state === 'done')
    return (
      <Notice tone="kept" title="The new edition is in force.">
        Every due date was reckoned anew.
      </Notice>
    )
  if (ended)
    return (
      <Notice tone="refused" title="The dates were not all reckoned anew.">
        {job.data.message ?? ''} The new edition is kept; dates follow with each tree’s next change.
      </Notice>
    )
  return (
    <Notice tone="mind" title="The new edition is kept.">
      Dates are reckoned anew
      {total > 0 ? `: ${done.toLocaleString('en-GB')} of ${total.toLocaleString('en-GB')}` : ''}.
    </Notice>
  )
}
