import { useEffect } from 'react'
import { hasEnded, useCancelJob, useJob } from '../api/index.ts'
import { Button, Notice } from '../look/index.ts'

/** A plan in the making: how far it is, and a way to stop it and keep the best so far. */
export function Making({ jobId, onEnded }: { jobId: string; onEnded(kept: boolean): void }) {
  const job = useJob(jobId)
  const stop = useCancelJob()
  const state = job.data?.state
  useEffect(() => {
    if (state === 'done' || state === 'cancelled') onEnded(true)
  }, [state, onEnded])
  if (job.data?.state === 'failed')
    return (
      <div className="page">
        <Notice tone="refused" title="The plan was not made.">
          {`${job.data.message} Earlier plans are kept as they were. `}
          <Button kind="quiet" onPress={() => onEnded(false)}>
            Put this away
          </Button>
        </Notice>
      </div>
    )
  const share = job.data && job.data.total > 0 ? job.data.done / job.data.total : 0
  return (
    <div className="making" role="status">
      <b>Planning.</b>
      <progress max={1} value={share} aria-label="How far the plan is" />
      <span className="q">{job.data?.message ?? 'Waiting for its turn.'}</span>
      <Button
        isDisabled={stop.isPending || !job.data || hasEnded(job.data)}
        onPress={() => stop.mutate(jobId)}
      >
        Stop, keep the best so far
      </Button>
    </div>
  )
}
