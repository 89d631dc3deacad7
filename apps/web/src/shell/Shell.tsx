import { Suspense } from 'react'
import { Outlet, useMatches } from 'react-router'
import { Refused, refusalsOf, useMe } from '../api/index.ts'
import { Button, ErrorNote, Fills, Loading, Notice } from '../look/index.ts'
import { FootBar } from './FootBar.tsx'
import { useKeeping } from './keeping.ts'
import { PersonProvider } from './person.ts'
import { RunningHead } from './RunningHead.tsx'
import { SignIn } from './SignIn.tsx'

/** Everything around a page: asks who is there, and shows the door when nobody is. */
export function Shell() {
  const me = useMe()
  const bare = useMatches().some((match) => (match.handle as { bare?: boolean } | undefined)?.bare)
  const { online } = useKeeping()
  const [refusal] = refusalsOf(me.error)
  if (me.data)
    return (
      <PersonProvider value={me.data}>
        <Fills />
        <a className="skip" href="#page">
          To the page
        </a>
        <div className={bare ? 'house house-bare' : 'house'}>
          <RunningHead />
          {online ? null : (
            <Notice tone="mind" title="No signal.">
              What you keep stays on this device and goes by itself when there is signal. You can go on.
            </Notice>
          )}
          <main id="page" tabIndex={-1}>
            <Suspense fallback={<Loading />}>
              <Outlet />
            </Suspense>
          </main>
          {bare ? null : <FootBar />}
        </div>
      </PersonProvider>
    )
  if (refusal?.code === 'signed-out')
    return <SignIn demo={me.error instanceof Refused ? me.error.demo : []} />
  if (me.error)
    return (
      <main className="door">
        <ErrorNote
          title="The office cannot be reached."
          error={me.error}
          action={
            <Button kind="do" onPress={() => me.refetch()}>
              Try again
            </Button>
          }
        />
      </main>
    )
  return <Loading>Asking the office who you are.</Loading>
}
