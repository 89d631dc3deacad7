import { type ExposurePolicy, exposurePolicySchema } from '@underbough/exposure'
import { useEffect, useState } from 'react'
import { type ExposureEditions, hasEnded, refusalsOf, useExposurePolicy, useJob } from '../api/index.ts'
import {
  Button,
  count,
  ErrorNote,
  Field,
  Loading,
  Notice,
  NumberField,
  Plate,
  Refusals,
  refusalAt,
  sayDate,
} from '../look/index.ts'
import {
  type AssumedField,
  assumedFields,
  changedFigures,
  sayLimits,
  shownFigure,
  withFigure,
} from './assumptionFields.ts'
import { useFiguresMoved, useKeepExposurePolicy } from './hooks.ts'

/** What the figures of people under a fall assume in this organisation, and the next edition while it is written. */
export function AssumedEdit() {
  const stored = useExposurePolicy()
  const keep = useKeepExposurePolicy()
  if (stored.error)
    return (
      <ErrorNote
        title="The assumptions cannot be fetched."
        error={stored.error}
        action={<Button onPress={() => stored.refetch()}>Try again</Button>}
      />
    )
  if (!stored.data) return <Loading>Fetching the assumptions.</Loading>
  return (
    <>
      <Recomputing jobId={keep.data?.jobId ?? null} />
      <Edit key={stored.data.edition} stored={stored.data} keep={keep} />
    </>
  )
}

function Edit({
  stored,
  keep,
}: {
  stored: ExposureEditions
  keep: ReturnType<typeof useKeepExposurePolicy>
}) {
  const [draft, setDraft] = useState<ExposurePolicy>(stored.policy)
  const [reason, setReason] = useState('')
  const changed = changedFigures(stored.policy, draft)
  const read = exposurePolicySchema.safeParse(draft)
  const unfit = read.success ? [] : read.error.issues
  const given = refusalsOf(keep.error)
  const elsewhere = given.filter(({ path }) => !path.startsWith('policy.') && path !== 'reason')
  const wrongAt = (field: AssumedField) => {
    const issue = unfit.find(({ path }) => path.join('.') === field.path)
    if (issue) return issue.code === 'custom' ? issue.message : `From ${sayLimits(field)}.`
    return refusalAt(given, `policy.${field.path}`)
  }
  const ofGroups = unfit.filter(
    ({ code, path }) => code === 'custom' && path.join('.') === 'shelter.carriesCm',
  )
  const set = (next: ExposurePolicy) => {
    keep.reset()
    setDraft(next)
  }
  return (
    <>
      <p className="prose">
        {stored.edition === 0 ? (
          <>In force: the starting figures.</>
        ) : (
          <>
            In force: edition <b>{stored.edition}</b>.
          </>
        )}{' '}
        A change becomes the next edition, and every tree is computed anew by it. Each figure names the
        edition that made it.
      </p>
      {changed.length > 0 ? (
        <div className="policy-keep assumed-keep" role="region" aria-label="The next edition">
          <Notice tone="mind" title="Changed here, not kept:">
            {count(changed.length, 'figure')}.
          </Notice>
          <Field
            label="Why"
            value={reason}
            onChange={setReason}
            hint="It is kept with the edition."
            refusal={refusalAt(given, 'reason')}
          />
          <Button
            kind="do"
            isDisabled={unfit.length > 0 || !reason.trim() || keep.isPending}
            onPress={() => keep.mutate({ version: stored.edition, policy: draft, reason: reason.trim() })}
          >
            Keep as edition {stored.edition + 1}
          </Button>
          <Button onPress={() => set(stored.policy)}>Put back</Button>
        </div>
      ) : null}
      <Refusals
        title="The assumptions were not kept."
        refusals={elsewhere}
        kept="Those in force stay; what you entered still stands here."
      />
      <div className="assumptions">
        {assumedFields.map(({ title, says, fields }) => (
          <Plate key={title} title={title}>
            <p className="s q">{says}</p>
            <ul className="assumed-list">
              {fields.map((field) => (
                <li key={field.path}>
                  <NumberField
                    label={field.what}
                    unit={field.unit}
                    value={shownFigure(draft, field)}
                    hint={`From ${sayLimits(field)}.`}
                    refusal={wrongAt(field)}
                    onChange={(value) => set(withFigure(draft, field, value))}
                  />
                </li>
              ))}
            </ul>
            {fields.some(({ path }) => path.startsWith('shelter.carriesCm'))
              ? ofGroups.map(({ message }) => (
                  <p key={message} className="field-refusal">
                    {message}
                  </p>
                ))
              : null}
          </Plate>
        ))}
        <Editions editions={stored.editions} />
      </div>
    </>
  )
}

function Editions({ editions }: Pick<ExposureEditions, 'editions'>) {
  if (editions.length === 0) return null
  return (
    <Plate title="Editions">
      <ul className="tree-list">
        {editions.map(({ edition, reason, madeBy, madeAt }) => (
          <li key={edition}>
            <b>Edition {edition}</b>, {sayDate(madeAt.slice(0, 10))}
            {madeBy ? `, ${madeBy}` : ''}
            <p className="s q">{reason}</p>
          </li>
        ))}
      </ul>
    </Plate>
  )
}

/** After an edition was kept every tree is computed anew; this says how far that is. */
function Recomputing({ jobId }: { jobId: string | null }) {
  const job = useJob(jobId)
  const moved = useFiguresMoved()
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
        Every tree was computed anew.
      </Notice>
    )
  if (ended)
    return (
      <Notice tone="refused" title="Not every tree was computed anew.">
        {job.data.message ?? ''} The new edition is kept; figures follow with each tree’s next change.
      </Notice>
    )
  return (
    <Notice tone="mind" title="The new edition is kept.">
      Trees are computed anew
      {total > 0 ? `: ${done.toLocaleString('en-GB')} of ${total.toLocaleString('en-GB')}` : ''}.
    </Notice>
  )
}
