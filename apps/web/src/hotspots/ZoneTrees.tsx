import { TreeMark } from '@underbough/pictures'
import { Link } from 'react-router'
import { useZone } from '../api/index.ts'
import { Button, capital, count, ErrorNote, LinkButton, Loading, Plate, sayPeople } from '../look/index.ts'
import type { Hotspot } from './hooks.ts'

const LISTED = 12

/** The trees that hang over the chosen zone, the one that bears most first. */
export function ZoneTrees({ spot }: { spot: Hotspot }) {
  const zone = useZone(spot.zone.id)
  const { people } = spot
  return (
    <Plate
      title={spot.zone.name}
      aside={`if the tree that bears most falls: ${sayPeople(people.mean)} people, ${sayPeople(people.least)} to ${sayPeople(people.most)}`}
      className="zone-trees"
    >
      {zone.error ? (
        <ErrorNote
          title="Its trees cannot be fetched."
          error={zone.error}
          action={<Button onPress={() => zone.refetch()}>Try again</Button>}
        />
      ) : !zone.data || zone.data.zone.id !== spot.zone.id ? (
        <Loading>Fetching its trees.</Loading>
      ) : (
        <>
          <table>
            <thead>
              <tr>
                <th colSpan={2}>Tree</th>
                <th>Rating</th>
                <th className="n">Falls that touch it</th>
                <th className="n">People, mean</th>
                <th className="n">Least to most</th>
              </tr>
            </thead>
            <tbody>
              {zone.data.trees.slice(0, LISTED).map((tree) => (
                <tr key={tree.id}>
                  <td className="mark-cell">
                    <TreeMark
                      risk={tree.risk}
                      visited={tree.risk !== null}
                      status={tree.status}
                      boxPx={28}
                      hidden
                    />
                  </td>
                  <td>
                    <Link to={`/trees/${tree.id}`}>
                      {tree.tag} {tree.commonName ?? tree.species}
                    </Link>
                  </td>
                  <td>
                    {capital(tree.risk ?? 'not yet rated')}
                    {tree.ratingOpen ? <span className="s q">, open again</span> : null}
                  </td>
                  <td className="n">{sayShare(tree.pTouch)}</td>
                  <td className="n">{sayPeople(tree.people.mean)}</td>
                  <td className="n">
                    {sayPeople(tree.people.least)} to {sayPeople(tree.people.most)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className="s q zone-trees-foot">
            {zone.data.treesTotal > LISTED
              ? `${LISTED} of ${count(zone.data.treesTotal, 'tree')}, those that bear most. `
              : ''}
            Given that the tree falls, over what may turn it.
          </p>
          <LinkButton to={`/ground?zone=${spot.zone.id}`}>Open on the ground</LinkButton>
        </>
      )}
    </Plate>
  )
}

const sayShare = (share: number) => (share > 0 && share < 0.01 ? 'under 1 %' : `${Math.round(share * 100)} %`)
