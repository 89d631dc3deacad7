/**
 * One process that works on a pass over a city, for the benchmark: `begin` starts the pass and works until it is over, `help` works on
 * what another began until it is told to stop. Prints one line of JSON: seconds, seconds of processor, and the most memory it held.
 */
import { resourceUsage } from 'node:process'
import { openDatabase } from '@underbough/db'
import { helpWithPasses } from '../../apps/server/src/exposure/pass.ts'
import type { Deps } from '../../apps/server/src/http/context.ts'
import { createJobs } from '../../apps/server/src/jobs/jobs.ts'
import { works } from '../../apps/server/src/jobs/works.ts'

const [url = '', part = 'begin', organisationId = ''] = process.argv.slice(2)
const database = await openDatabase({ url })
const deps = { database, now: () => new Date() } as Deps
process.send?.('ready')
if (part === 'help') {
  const stop = helpWithPasses(deps)
  await new Promise((resolve) => process.once('message', resolve))
  await stop()
  report(0, '')
} else {
  deps.jobs = await createJobs(database, works(deps))
  const began = performance.now()
  const jobId = await deps.jobs.start(organisationId, 'exposure', { treeIds: null }, 'officer')
  let job = await deps.jobs.get(organisationId, jobId)
  while (job && !job.endedAt) {
    await new Promise((resolve) => setTimeout(resolve, 200))
    job = await deps.jobs.get(organisationId, jobId)
  }
  report((performance.now() - began) / 1000, `${job?.state}: ${job?.message}`)
  await deps.jobs.close()
}
await database.close()
process.exit(0)

function report(wallS: number, said: string) {
  const { userCPUTime, systemCPUTime, maxRSS } = resourceUsage()
  console.log(
    JSON.stringify({ wallS, processorS: (userCPUTime + systemCPUTime) / 1e6, mostMb: maxRSS / 1024, said }),
  )
}
