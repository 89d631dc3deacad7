import { type FindingInput, lookingStepNames } from '@underbough/model'
import { PhotoNews, PhotoPress, PhotoStrip, type Taking, usePhotos, useTaking } from '../photos/index.ts'
import type { VisitHandle } from './useVisit.ts'

/** Whose photos a visit's are, and how what waits is named. */
function aboutOf({ draft, kept }: VisitHandle, what: string) {
  const { tree } = kept.ground.whole
  return {
    authorId: draft.personId,
    treeId: draft.treeId,
    label: `Photo at ${tree.tag} ${tree.commonName ?? tree.species}: ${what}`,
  }
}

/** Takes photos for the finding that is open, else for the visit. */
export function useVisitTaking(visit: VisitHandle, findingId: string | null, step: string): Taking {
  const finding = visit.draft.findings.find(({ id }) => id === findingId)
  const what = finding ? finding.kind : step
  return useTaking(
    finding ? { ownerKind: 'finding', ownerId: finding.id } : { ownerKind: 'visit', ownerId: visit.draft.id },
    what,
    aboutOf(visit, what),
  )
}

/** All photos of a visit on this device: of its findings, its steps and its urgent note. */
export function useVisitPhotos({ draft }: VisitHandle) {
  const owners = [draft.id, ...draft.findings.map(({ id }) => id), draft.urgentNote?.id ?? '']
  return usePhotos(draft.treeId, owners)
}

/** Photos of one finding, and a way to add some that were taken before. */
export function FindingPhotos({ visit, finding }: { visit: VisitHandle; finding: FindingInput }) {
  const photos = usePhotos(visit.draft.treeId, [finding.id])
  const taking = useVisitTaking(visit, finding.id, finding.kind)
  return (
    <div className="finding-photos">
      <PhotoStrip photos={photos} about={aboutOf(visit, finding.kind)} of={finding.kind} />
      <PhotoNews taking={taking} />
      <PhotoPress
        taking={taking}
        from="files"
        kind="quiet"
        label={`Photos of ${finding.kind} from this device`}
      >
        Photos taken before
      </PhotoPress>
    </div>
  )
}

/** Photos of the whole visit, read back. */
export function VisitPhotos({ visit }: { visit: VisitHandle }) {
  const photos = useVisitPhotos(visit)
  return <PhotoStrip photos={photos} about={aboutOf(visit, 'visit')} of="visit" />
}

const stepNames: ReadonlySet<string> = new Set(Object.values(lookingStepNames))

/** Photos of the visit that were taken at this step, or that name no step. */
export function StepPhotos({ visit, step }: { visit: VisitHandle; step: string }) {
  const photos = usePhotos(visit.draft.treeId, [visit.draft.id])
  const here = photos.filter(({ photo }) => photo.caption === step || !stepNames.has(photo.caption))
  return <PhotoStrip photos={here} about={aboutOf(visit, step)} of={step} />
}
