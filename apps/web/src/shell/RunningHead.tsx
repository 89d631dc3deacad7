import { lazy, Suspense } from 'react'
import { NavLink } from 'react-router'
import { useSites } from '../api/index.ts'
import { Emblem, KeepingState } from '../look/index.ts'
import { useFreshAnswers, useKeeping } from './keeping.ts'
import { usePerson } from './person.ts'
import { placesOf } from './places.ts'
import { useAtLeast } from './useAtLeast.ts'

const AccountMenu = lazy(() => import('./AccountMenu.tsx'))
const FindBox = lazy(() => import('./FindBox.tsx'))

/** The head over every page: the places, the find box, the site, what is kept, the account. */
export function RunningHead() {
  const me = usePerson()
  const { keeping, words } = useKeeping()
  useFreshAnswers()
  const hasFind = useAtLeast(600)
  const hasAccount = useAtLeast(900)
  const sites = useSites()
  const site =
    sites.data?.length === 1 ? `${sites.data[0]!.name}, ${me.organisation.name}` : me.organisation.name
  return (
    <header className="head">
      <NavLink to="/" className="name" aria-label="Underbough, first page">
        <Emblem />
        <span>Underbough</span>
      </NavLink>
      <nav aria-label="Places">
        {placesOf(me.role).map((place) => (
          <NavLink key={place.path} to={place.path}>
            {place.name}
          </NavLink>
        ))}
      </nav>
      <div className="head-right">
        <Suspense>{hasFind ? <FindBox /> : null}</Suspense>
        <span className="head-site">{site}</span>
        <span className="head-keeping" role="status">
          <NavLink to="/waiting" className="keeping-link" aria-label={`${words}: what waits on this device`}>
            <KeepingState keeping={keeping}>{words}</KeepingState>
          </NavLink>
        </span>
        <Suspense>{hasAccount ? <AccountMenu /> : null}</Suspense>
      </div>
    </header>
  )
}
