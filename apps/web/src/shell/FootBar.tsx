import { lazy, type ReactNode, Suspense, useState } from 'react'
import { NavLink, useNavigate } from 'react-router'
import { Button, Dialog, Select, useGroundWish, wishGround } from '../look/index.ts'
import { usePerson } from './person.ts'
import { mayChange, placesOf } from './places.ts'
import { SignOutDialog } from './SignOutDialog.tsx'
import { wishes } from './wishes.ts'

const FindBox = lazy(() => import('./FindBox.tsx'))

/** The phone's bar of places, in the thumb's reach. A page with one next action puts `ActionBar` there instead. */
export function FootBar() {
  const me = usePerson()
  const [more, setMore] = useState(false)
  const wish = useGroundWish()
  const [leaving, setLeaving] = useState(false)
  const go = useNavigate()
  const all = placesOf(me.role)
  const visit = (path: string) => {
    setMore(false)
    go(path)
  }
  return (
    <nav className="foot-bar" aria-label="Places">
      {all.slice(0, 4).map((place) => (
        <NavLink key={place.path} to={place.path}>
          {place.name}
        </NavLink>
      ))}
      <Button kind="quiet" onPress={() => setMore(true)}>
        More
      </Button>
      <Dialog title="More" isOpen={more} onClose={() => setMore(false)}>
        <Suspense>
          <FindBox onFound={() => setMore(false)} />
        </Suspense>
        {all.slice(4).map((place) => (
          <Button key={place.path} big onPress={() => visit(place.path)}>
            {place.name}
          </Button>
        ))}
        {mayChange(me.role) ? (
          <>
            <Button big onPress={() => visit('/import')}>
              Bring in a list
            </Button>
            <Button big onPress={() => visit('/settings')}>
              Settings
            </Button>
          </>
        ) : null}
        <Select label="Ground" value={wish} options={wishes} onChange={wishGround} />
        <Button
          big
          onPress={() => {
            setMore(false)
            setLeaving(true)
          }}
        >
          Sign out, {me.name}
        </Button>
      </Dialog>
      {leaving ? <SignOutDialog onClose={() => setLeaving(false)} onOut={() => go('/')} /> : null}
    </nav>
  )
}

/** A page's own next action at the foot of the phone; the places give way to it (set `handle: { bare: true }` on the route). */
export function ActionBar({ children }: { children: ReactNode }) {
  return <div className="action-bar">{children}</div>
}
