import type { Site, WindFile } from '@underbough/model'
import { useState } from 'react'
import { hasEnded, refusalsOf, useJob } from '../api/index.ts'
import { Button, Facts, Notice, Refusals, sayDate } from '../look/index.ts'
import { WindRoses } from './WindRoses.tsx'
import { useAcceptRose } from './windHooks.ts'
import { sayForce, sayStation, sayThreshold, sayWind, summaryRows } from './windWords.ts'

/** What became of a file that was read: what was taken, set aside and is missing, and its rose beside the one in use. */
export function WindVerdict({ site, file, onAgain }: { site: Site; file: WindFile; onAgain(): void }) {
  const accept = useAcceptRose()
  const { summary, rose } = file
  const taken = accept.data !== undefined
  const [before] = useState(site.windRose)
  return (
    <div className="wind-verdict">
      <Notice tone="kept" title="Read and kept as history.">
        {file.fileName}. {sayStation(file)}.
      </Notice>
      <div className="wind-verdict-parts">
        <Facts rows={summaryRows(summary)} />
        <div className="wind-notes">
          {summary.notes.map((note) => (
            <p key={note.code} className="s">
              {note.message} {note.limit ? <span className="q">Limit: {note.limit}.</span> : null}
            </p>
          ))}
          {summary.longestGaps.length > 0 ? (
            <p className="s q">
              Longest gaps:{' '}
              {summary.longestGaps
                .map(
                  ({ after, hours }) =>
                    `${hours} h after ${sayDate(after.slice(0, 10))} ${after.slice(11, 16)} UTC`,
                )
                .join('; ')}
              .
            </p>
          ) : null}
        </div>
      </div>
      <WindRoses
        roses={[
          {
            title: taken ? 'Before' : 'In use now',
            rose: before,
          },
          { title: taken ? 'In use now' : 'From this file', rose },
        ]}
      />
      {rose && summary.strongFromMps !== null ? (
        <p className="prose q">
          A petal points to where strong gusts come from; a tree would fall the other way. Counted:{' '}
          {sayThreshold(file.threshold)}
          {file.threshold.kind === 'share' ? `, which is ${sayWind(summary.strongFromMps)} and more` : ''} (
          {sayForce(summary.strongFromMps)}).
        </p>
      ) : null}
      <Refusals
        title="The rose was not taken."
        refusals={refusalsOf(accept.error)}
        kept="The site keeps its rose."
      />
      {taken ? <Anew jobId={accept.data!.jobId} /> : null}
      <div className="row c wrap">
        {rose && !taken ? (
          <Button
            kind="do"
            isDisabled={accept.isPending}
            onPress={() => accept.mutate({ id: file.id, version: site.version })}
          >
            Take this rose
          </Button>
        ) : null}
        <Button onPress={onAgain}>{taken ? 'Read another file' : 'Leave the rose as it is'}</Button>
      </div>
    </div>
  )
}

function Anew({ jobId }: { jobId: string | null }) {
  const job = useJob(jobId)
  const ended = job.data && hasEnded(job.data)
  return (
    <Notice tone="kept" title="The rose is in use.">
      {jobId === null
        ? 'No tree stands on this site.'
        : ended
          ? 'Who is under its trees was computed anew.'
          : `Who is under its trees is computed anew${job.data && job.data.total > 0 ? `: ${job.data.done} of ${job.data.total}` : ''}.`}
    </Notice>
  )
}
