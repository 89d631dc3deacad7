import { Button, KeepingState, LinkButton } from '../look/index.ts'
import { PhotoNews, PhotoPress, PhotoStrip, usePhotos, useTaking } from '../photos/index.ts'
import { usePerson } from '../shell/index.ts'
import { Cautions } from './Cautions.tsx'

/** After a tree was recorded as fallen: photos of what broke, and the way to a visit where people are at risk. */
export function FallenKept(props: { treeId: string; treeName: string; failureId: string; onClose(): void }) {
  const { treeId, treeName, failureId, onClose } = props
  const { personId } = usePerson()
  const about = { authorId: personId, treeId, label: `${treeName}: what broke` }
  const taking = useTaking({ ownerKind: 'failure', ownerId: failureId }, '', about)
  const photos = usePhotos(treeId, [failureId])
  return (
    <>
      <p>
        <b>{treeName}</b>
      </p>
      <p role="status">
        <KeepingState keeping="on-this-phone">Found fallen: on this phone</KeepingState>
      </p>
      <Cautions />
      <PhotoStrip photos={photos} about={about} of="what broke" />
      <PhotoNews taking={taking} />
      <div className="photo-presses">
        <PhotoPress taking={taking} from="camera" label="Photo of what broke">
          Photo of what broke
        </PhotoPress>
        <PhotoPress taking={taking} from="files" kind="quiet" label="Photos of what broke from this device">
          From this device
        </PhotoPress>
      </div>
      <p className="q">If people are at risk from what is left, begin a visit and send the urgent note.</p>
      <LinkButton big to={`/trees/${treeId}/visit`}>
        Begin a visit
      </LinkButton>
      <Button kind="do" big isDisabled={taking.busy > 0} onPress={onClose}>
        Done
      </Button>
    </>
  )
}
