import { Suspense } from 'react'
import { Outlet, useMatches } from 'react-router'
import { Refused, refusalsOf, useHere } from '../api/index.ts'
import { Button, ErrorNote, Fills, Loading } from '../look/index.ts'
import { UrgentBar } from '../urgent/index.ts'
import { VersionsLine } from '../versions/VersionsLine.tsx'
import { RoomLine } from '../waiting/RoomPart.tsx'
import { FootBar } from './FootBar.tsx'
import { OfficeLine } from './OfficeLine.tsx'
import { PersonProvider } from './person.ts'
import { mayChange } from './places.ts'
import { RunningHead } from './RunningHead.tsx'
import { SignIn } from './SignIn.tsx'
import { VersionLine } from './VersionLine.tsx'

/** Everything around a page: asks who is there, and shows the door when nobody is. */
export function Shell() {
  const here = useHere()
  const bare = useMatches().some((match) => (match.handle as { bare?: boolean } | undefined)?.bare)
  const [refusal] = refusalsOf(here.error)
  if (here.data)
    return (
      <PersonProvider value={here.data.me}>
        <Fills />
        <a className="skip" href="#page">
          To the page
        </a>
        <div className={bare ? 'house house-bare' : 'house'}>
          <RunningHead />
          <OfficeLine here={here.data} />
          <VersionLine />
          <RoomLine />
          {mayChange(here.data.me.role) ? (
            <>
              <UrgentBar />
              <VersionsLine />
            </>
          ) : null}
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
    return <SignIn demo={here.error instanceof Refused ? here.error.demo : []} />
  if (here.error)
    return (
      <main className="door">
        <ErrorNote
          title="The office cannot be reached."
          error={here.error}
          action={
            <Button kind="do" onPress={() => here.refetch()}>
              Try again
            </Button>
          }
        />
      </main>
    )
  return <Loading>Asking the office who you are.</Loading>
}
