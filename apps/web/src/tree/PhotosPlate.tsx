import type { Photo } from '@underbough/model'
import type { TreeWhole } from '../api/index.ts'
import { Empty, Plate, sayDate } from '../look/index.ts'
import { PhotoNews, PhotoPress, PhotoStrip, type ShownPhoto, usePhotos, useTaking } from '../photos/index.ts'
import { usePerson } from '../shell/index.ts'

/** Photos of the tree and of what was found on it: what this device keeps and what the office has. */
export function PhotosPlate({ no, whole }: { no: number; whole: TreeWhole }) {
  const { tree } = whole
  const { role, personId } = usePerson()
  const name = `${tree.tag} ${tree.commonName ?? tree.species}`
  const about = { authorId: personId, treeId: tree.id, label: `Photo of ${name}` }
  const photos = usePhotos(tree.id, { authorId: personId }, whole.photos)
  const taking = useTaking({ ownerKind: 'tree', ownerId: tree.id }, '', about)
  return (
    <Plate no={no} title="Photos" aside="original bytes are kept" className="tree-photos wide">
      {photos.length === 0 ? (
        <Empty title="No photos yet.">Those taken on visits stand here too, each with its digest.</Empty>
      ) : (
        groupsOf(whole, photos).map(({ words, its }) => (
          <section key={words} className="tree-photo-group" aria-label={words}>
            <h3>{words}</h3>
            <PhotoStrip photos={its} about={about} of={words} large mayChange={role !== 'client'} />
          </section>
        ))
      )}
      {role === 'client' ? null : (
        <div className="tree-more">
          <PhotoNews taking={taking} />
          <div className="photo-presses">
            <PhotoPress taking={taking} from="camera" label="Photo of the tree">
              Photo
            </PhotoPress>
            <PhotoPress taking={taking} from="files" kind="quiet" label="Photos of the tree from this device">
              From this device
            </PhotoPress>
          </div>
        </div>
      )}
    </Plate>
  )
}

/** Photos by what they belong to, in the order in which they were taken up. */
function groupsOf(whole: TreeWhole, photos: readonly ShownPhoto[]) {
  const groups = new Map<string, ShownPhoto[]>()
  for (const shown of photos) {
    const words = ownerWords(whole, shown.photo)
    groups.set(words, [...(groups.get(words) ?? []), shown])
  }
  return [...groups].map(([words, its]) => ({ words, its }))
}

function ownerWords(whole: TreeWhole, photo: Pick<Photo, 'ownerId' | 'ownerKind'>): string {
  for (const visit of whole.visits) {
    const on = sayDate(visit.startedAt.slice(0, 10))
    if (photo.ownerId === visit.id) return `Visit of ${on}`
    const finding = visit.findings.find((f) => f.id === photo.ownerId)
    if (finding) return `${finding.kind}, ${on}`
  }
  return {
    tree: 'The tree',
    visit: 'A visit',
    finding: 'A finding',
    probe: 'A reading',
    failure: 'What broke',
    'urgent-note': 'Closed for now',
  }[photo.ownerKind]
}
