import { TreeMark } from '@underbough/pictures'
import { Link } from 'react-router'
import { Button, capital, count, ErrorNote, LinkButton, Loading, Plate, sayPeople } from '../look/index.ts'
import { Scrolled } from '../tree/Scrolled.tsx'
import { type Basis, type Hotspot, type SpotTree, useSpotTrees } from './hooks.ts'

const sayShare = (share: number) => (share > 0 && share < 0.01 ? 'under 1 %' : `${Math.round(share * 100)} %`)

/** The trees that hang over the chosen spot, those that decide its place first. */
export function SpotTrees({ spot, basis, name }: { spot: Hotspot; basis: Basis; name: string }) {
  const trees = useSpotTrees(spot.id, basis)
  const { people } = spot
  return (
    <Plate
      title={name}
      aside={`if the tree that bears most falls: ${sayPeople(people.mean)} people, ${sayPeople(people.least)} to ${sayPeople(people.most)}`}
      className="zone-trees"
    >
      {trees.error ? (
        <ErrorNote
          title="Its trees cannot be fetched."
          error={trees.error}
          action={<Button onPress={() => trees.refetch()}>Try again</Button>}
        />
      ) : !trees.data ? (
        <Loading>Fetching its trees.</Loading>
      ) : (
        <>
          <TreeTable trees={trees.data} ofCell={spot.cell !== null} name={name} />
          <p className="s q zone-trees-foot">
            {spot.trees > trees.data.length
              ? `${trees.data.length} of ${count(spot.trees, 'tree')}, those that decide its place. `
              : ''}
            Given that the tree falls, over what may turn it.
          </p>
          <div className="row c wrap">
            <LinkButton
              to={
                spot.zone
                  ? `/ground?zone=${spot.zone.id}`
                  : `/ground?at=${spot.place.map((degrees) => degrees.toFixed(6)).join(',')}`
              }
            >
              Open on the ground
            </LinkButton>
            {spot.zone ? <LinkButton to={`/zones/${spot.zone.id}/what-if`}>What if …</LinkButton> : null}
          </div>
        </>
      )}
    </Plate>
  )
}

function TreeTable({ trees, ofCell, name }: { trees: readonly SpotTree[]; ofCell: boolean; name: string }) {
  return (
    <Scrolled label={`Trees over ${name}`}>
      <table>
        <thead>
          <tr>
            <th colSpan={2}>Tree</th>
            <th>Rating</th>
            <th className="n">{ofCell ? 'Falls that touch a zone' : 'Falls that touch it'}</th>
            <th className="n">People, mean</th>
            <th className="n">Least to most</th>
          </tr>
        </thead>
        <tbody>
          {trees.map((tree) => (
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
    </Scrolled>
  )
}
