import type { Site, WindFile } from '@underbough/model'
import { useSearchParams } from 'react-router'
import { refusalsOf, useSites } from '../api/index.ts'
import { Button, count, Empty, ErrorNote, Loading, Plate, Refusals, Select, sayDate } from '../look/index.ts'
import { WindHistory } from './WindHistory.tsx'
import { WindRead } from './WindRead.tsx'
import { WindRose, windSays } from './WindRose.tsx'
import { WindRoses } from './WindRoses.tsx'
import { useAcceptRose, useWind } from './windHooks.ts'
import { sayStation, sayThreshold } from './windWords.ts'
import './wind.css'

/** Wind of a site: where strong gusts come from, the files behind it, and the gusts on record. */
export function WindPart() {
  const sites = useSites()
  const [words, setWords] = useSearchParams()
  if (sites.error)
    return (
      <ErrorNote
        title="The sites cannot be fetched."
        error={sites.error}
        action={<Button onPress={() => sites.refetch()}>Try again</Button>}
      />
    )
  if (!sites.data) return <Loading>Fetching the sites.</Loading>
  const site = sites.data.find(({ id }) => id === words.get('site')) ?? sites.data[0]
  if (!site)
    return (
      <Empty title="No site yet.">Wind belongs to a site: a park, an estate or a district of streets.</Empty>
    )
  return (
    <>
      <div className="wind-site">
        <Select
          label="Site"
          value={site.id}
          options={sites.data.map(({ id, name }) => ({ value: id, label: name }))}
          onChange={(id) => setWords({ part: 'wind', site: id })}
        />
      </div>
      <OfSite key={site.id} site={site} />
    </>
  )
}

function OfSite({ site }: { site: Site }) {
  const wind = useWind(site.id)
  if (wind.error)
    return (
      <ErrorNote
        title="The wind of this site cannot be fetched."
        error={wind.error}
        action={<Button onPress={() => wind.refetch()}>Try again</Button>}
      />
    )
  if (!wind.data) return <Loading>Fetching the wind of {site.name}.</Loading>
  const { files, days } = wind.data
  const inUse = files
    .filter(({ acceptedAt, rose }) => acceptedAt !== null && sameRose(rose, site.windRose))
    .toSorted((a, b) => (a.acceptedAt! < b.acceptedAt! ? 1 : -1))[0]
  return (
    <div className="wind-part">
      <div className="wind-top">
        <Plate title="Where strong gusts come from">
          <WindRoses roses={[{ title: site.name, rose: site.windRose }]} />
          <p className="s q">
            {inUse
              ? `${sayStation(inUse)}; ${sayThreshold(inUse.threshold)}. Taken by ${inUse.acceptedBy}, ${sayDate(inUse.acceptedAt!.slice(0, 10))}.`
              : site.windRose
                ? 'Entered with the site; no file stands behind it.'
                : 'Read a file of hourly weather to know it.'}
          </p>
        </Plate>
        <WindHistory days={days} strongFromMps={inUse?.summary.strongFromMps ?? null} />
      </div>
      <WindRead site={site} />
      <Files site={site} files={files} />
    </div>
  )
}

const sameRose = (a: readonly number[] | null, b: readonly number[] | null) =>
  a !== null && b !== null && a.every((share, i) => Math.abs(share - b[i]!) < 1e-9)

function Files({ site, files }: { site: Site; files: readonly WindFile[] }) {
  const accept = useAcceptRose()
  if (files.length === 0) return null
  return (
    <Plate title="Files read before">
      <Refusals
        title="The rose was not taken."
        refusals={refusalsOf(accept.error)}
        kept="The site keeps its rose."
      />
      <ul className="wind-files">
        {files.map((file) => (
          <li key={file.id}>
            <div>
              <b>{file.fileName}</b>
              <div className="s q">
                Read by {file.madeBy}, {sayDate(file.madeAt.slice(0, 10))}
              </div>
            </div>
            <div>
              {sayStation(file)}
              <div className="s q">
                {sayDate(file.summary.from.slice(0, 10))} to {sayDate(file.summary.to.slice(0, 10))}:{' '}
                {count(file.summary.hours, 'hour')}, {count(file.summary.gaps, 'gap')},{' '}
                {file.summary.setAside} set aside
              </div>
            </div>
            <div>
              {file.rose ? (
                <span className="row c site-wind">
                  <WindRose rose={file.rose} /> {windSays(file.rose)}
                </span>
              ) : (
                'No rose: no gust strong enough'
              )}
              <div className="s q">{sayThreshold(file.threshold)}</div>
            </div>
            <div className="wind-take">
              {file.rose === null ? null : sameRose(file.rose, site.windRose) ? (
                'in use'
              ) : (
                <Button
                  aria-label={`Take the rose of ${file.fileName}`}
                  isDisabled={accept.isPending}
                  onPress={() => accept.mutate({ id: file.id, version: site.version })}
                >
                  Take this rose
                </Button>
              )}
            </div>
          </li>
        ))}
      </ul>
    </Plate>
  )
}
