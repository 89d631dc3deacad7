import { zoneNames } from '@underbough/pictures'
import { useMemo } from 'react'
import { useSearchParams } from 'react-router'
import { useMapView, useSites } from '../api/index.ts'
import {
  Button,
  ErrorNote,
  LinkButton,
  Loading,
  sayDate,
  sayPeople,
  standingSentence,
} from '../look/index.ts'
import { squaresOver } from '../map/index.ts'
import { usePerson } from '../shell/index.ts'
import { type Basis, type Hotspot, type HotspotList, useHotspots, useOutlines } from './hooks.ts'
import { PaperMap } from './PaperMap.tsx'
import { questionOf, wordsOf } from './question.ts'
import { lastMonth, orderNames, sayChange, sayFigure, sayName } from './ranking.ts'
import './paper.css'

const ROWS = 20

/** The list for paper: one to two sheets of A4, black on white, with a map, a table, and what the figures do not say. */
export default function PaperPage() {
  const [words] = useSearchParams()
  const asked = questionOf(words)
  const found = useHotspots({ ...asked, within: null }, ROWS)
  const ids = useMemo(() => found.data?.spots.flatMap(({ zone }) => zone?.id ?? []) ?? [], [found.data])
  const outlines = useOutlines(ids)
  const view = useMapView()
  const sites = useSites()
  const { organisation } = usePerson()
  const error = found.error ?? view.error
  if (error)
    return (
      <div className="page">
        <ErrorNote
          title="The list cannot be fetched."
          error={error}
          action={<Button onPress={() => found.refetch()}>Try again</Button>}
        />
      </div>
    )
  if (!found.data || !view.data || (ids.length > 0 && !outlines.data))
    return <Loading>Laying out the sheet.</Loading>
  const { spots, total, computedAt, methodVersion } = found.data
  const squares = squaresOver(view.data.bounds)
  const site = sites.data?.find(({ id }) => id === asked.siteId)?.name
  const where = [site, asked.kind ? zoneNames[asked.kind] : null].filter(Boolean).join(', ')
  return (
    <div className="paper">
      <div className="paper-presses row c wrap">
        <Button kind="do" onPress={() => window.print()}>
          Print
        </Button>
        <LinkButton to={`/hotspots?${new URLSearchParams(wordsOf(asked))}`}>Back to the list</LinkButton>
      </div>
      <article className="paper-sheet">
        <header>
          <h1>Where falls would meet people</h1>
          <p>
            {organisation.name}. {asked.of === 'zones' ? 'Target zones' : 'Cells of about a hundred metres'}
            {where ? ` (${where})` : ''} ranked {asked.basis === 'rating' ? '' : 'by people under a fall: '}
            {orderNames[asked.basis]}. The first {spots.length} of {total.toLocaleString('en-GB')}. Listed{' '}
            {sayDate(view.data.today)}
            {computedAt ? `; figures of ${sayDate(computedAt.slice(0, 10))}, method ${methodVersion}` : ''}.
          </p>
        </header>
        {spots.length > 0 ? (
          <>
            <PaperMap spots={spots} outlines={outlines.data ?? new Map()} />
            <p className="paper-small">
              Numbers: places of the list. Grey: their outlines. Dots: the trees responsible.
            </p>
            <PaperTable spots={spots} basis={asked.basis} nameOf={(spot) => sayName(spot, squares)} />
          </>
        ) : (
          <p>Nothing here has people under a fall by this reckoning.</p>
        )}
        <Moved list={found.data} basis={asked.basis} today={view.data.today} />
        <footer>
          <p>
            People are mean numbers within the outline of the fallen tree, given that it falls, averaged over
            the hours on record; least to most run over what may turn the fall of the tree that bears most.
            They say who would be under a fall, not whether one comes. Roads: under it only; driving into it
            is counted apart. Heights, hours and assumptions are as recorded or as assumed in Settings.
          </p>
          <p>{standingSentence}</p>
        </footer>
      </article>
    </div>
  )
}

const figureNames: Record<Basis, string> = {
  one: 'People, mean',
  rated: 'People, sum',
  rating: 'Trees rated',
}

function PaperTable({
  spots,
  basis,
  nameOf,
}: {
  spots: readonly Hotspot[]
  basis: Basis
  nameOf(spot: Hotspot): string
}) {
  return (
    <table>
      <thead>
        <tr>
          <th className="n">No.</th>
          <th>Place</th>
          <th className="n">{figureNames[basis]}</th>
          <th className="n">Least to most</th>
          <th className="n">Trees</th>
          <th>Responsible, with rating</th>
        </tr>
      </thead>
      <tbody>
        {spots.map((spot) => (
          <tr key={spot.id}>
            <td className="n">{spot.rank}</td>
            <td>
              {nameOf(spot)}
              {spot.zone ? <span className="paper-small">, {zoneNames[spot.zone.kind]}</span> : null}
            </td>
            <td className="n">
              {sayFigure(basis, spot)}
              {sayChange(basis, spot) ? (
                <span className="paper-small"> ({sayChange(basis, spot)})</span>
              ) : null}
            </td>
            <td className="n">
              {sayPeople(spot.people.least)} to {sayPeople(spot.people.most)}
            </td>
            <td className="n">{spot.trees.toLocaleString('en-GB')}</td>
            <td className="paper-small">
              {spot.worst.map(({ tag, risk }) => `${tag} ${risk ?? 'not rated'}`).join(', ')}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Moved({ list, basis, today }: { list: HotspotList; basis: Basis; today: string }) {
  if (!list.comparable) return <p>No month before this one to compare with.</p>
  const number = (change: string) => list.spots.filter((spot) => spot.change === change).length
  const gone = list.gone
    .slice(0, 6)
    .map(({ name, before }) => `${name ?? 'a cell'} (was ${sayFigure(basis, before)})`)
  return (
    <p>
      Since the end of {lastMonth(today)}, of these: {number('new')} new, {number('up')} up, {number('down')}{' '}
      down
      {gone.length > 0 ? `. Gone: ${gone.join(', ')}` : ''}.
    </p>
  )
}
