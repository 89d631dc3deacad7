import { lazy } from 'react'
import { Navigate, type RouteObject } from 'react-router'
import { Empty, LinkButton } from '../look/index.ts'
import { BrokenPage } from './BrokenPage.tsx'
import { usePerson } from './person.ts'
import { firstPlaceOf } from './places.ts'
import { Shell } from './Shell.tsx'

const GroundPage = lazy(() => import('../ground/GroundPage.tsx'))
const HotspotsPage = lazy(() => import('../hotspots/HotspotsPage.tsx'))
const ImportPage = lazy(() => import('../import/ImportPage.tsx'))
const OneImportPage = lazy(() => import('../import/OneImportPage.tsx'))
const ReadingPage = lazy(() => import('../probes/ReadingPage.tsx'))
const RecordsPage = lazy(() => import('../records/RecordsPage.tsx'))
const RoundsPage = lazy(() => import('../rounds/RoundsPage.tsx'))
const SettingsPage = lazy(() => import('../settings/SettingsPage.tsx'))
const TodayPage = lazy(() => import('../today/TodayPage.tsx'))
const TreePage = lazy(() => import('../tree/TreePage.tsx'))
const TreesPage = lazy(() => import('../tree/TreesPage.tsx'))
const VersionsPage = lazy(() => import('../versions/VersionsPage.tsx'))
const VisitPage = lazy(() => import('../visit/VisitPage.tsx'))
const WaitingPage = lazy(() => import('../waiting/WaitingPage.tsx'))
const WalkOverPage = lazy(() => import('../walk-over/WalkOverPage.tsx'))
const ZoneWhatIfPage = lazy(() => import('../what-if/ZoneWhatIfPage.tsx'))
const HotspotsPaperPage = lazy(() => import('../hotspots/PaperPage.tsx'))
const WorksPage = lazy(() => import('../works/WorksPage.tsx'))

// What waits on this device goes to the office from whatever page is opened first.
if (typeof window !== 'undefined') void import('../waiting/start.ts').then((keeping) => keeping.start())

function FirstPlace() {
  return <Navigate to={firstPlaceOf(usePerson().role)} replace />
}
function NoSuchPage() {
  return (
    <div className="page">
      <Empty
        title="There is no such page."
        action={
          <LinkButton to="/" kind="do">
            To the first page
          </LinkButton>
        }
      >
        The address may have been mistyped, or the record moved.
      </Empty>
    </div>
  )
}

/** One line a page. A page whose phone has one next action says `handle: { bare: true }` and draws its own `ActionBar`. */
export const routes: RouteObject[] = [
  {
    path: '/',
    element: <Shell />,
    errorElement: <BrokenPage />,
    children: [
      {
        errorElement: <BrokenPage />,
        children: [
          { index: true, element: <FirstPlace /> },
          { path: 'ground', element: <GroundPage /> },
          { path: 'rounds', element: <RoundsPage /> },
          { path: 'today', element: <TodayPage />, handle: { bare: true } },
          { path: 'hotspots', element: <HotspotsPage /> },
          { path: 'hotspots/paper', element: <HotspotsPaperPage /> },
          { path: 'trees', element: <TreesPage /> },
          { path: 'trees/:id', element: <TreePage /> },
          { path: 'trees/:id/readings/new', element: <ReadingPage />, handle: { bare: true } },
          { path: 'trees/:id/visit', element: <VisitPage />, handle: { bare: true } },
          { path: 'zones/:id/what-if', element: <ZoneWhatIfPage /> },
          { path: 'zones/:id/walk-over', element: <WalkOverPage />, handle: { bare: true } },
          { path: 'waiting', element: <WaitingPage /> },
          { path: 'versions', element: <VersionsPage /> },
          { path: 'works', element: <WorksPage /> },
          { path: 'records', element: <RecordsPage /> },
          { path: 'import', element: <ImportPage /> },
          { path: 'import/:id', element: <OneImportPage /> },
          { path: 'settings', element: <SettingsPage /> },
          { path: '*', element: <NoSuchPage /> },
        ],
      },
    ],
  },
]
