import { useState } from 'react'
import { Dialog } from 'react-aria-components/Dialog'
import { Modal, ModalOverlay } from 'react-aria-components/Modal'
import { Button } from '../look/index.ts'
import { ReadingPlace, type Wish } from './ReadingPlace.tsx'

/** A quiet press within a visit that lays the form of a reading over it. `onOpen` lets the visit be kept before anything belongs to it. */
export function ReadingOver(props: { treeId: string; treeName: string; visitId: string; onOpen(): void }) {
  const { treeId, treeName, visitId, onOpen } = props
  const [isOpen, setOpen] = useState(false)
  const [wish, setWish] = useState<Wish>(null)
  return (
    <>
      <Button
        kind="quiet"
        onPress={() => {
          onOpen()
          setOpen(true)
        }}
      >
        Add a reading into the wood
      </Button>
      <ModalOverlay className="veil reading-veil" isOpen={isOpen} onOpenChange={setOpen}>
        <Modal className="reading-over">
          <Dialog aria-label="Add a reading">
            <ReadingPlace
              treeId={treeId}
              treeName={treeName}
              visitId={visitId}
              visits={null}
              wish={wish}
              onWish={setWish}
              onLeave={() => setOpen(false)}
              leaveWords="Back to the visit"
            />
          </Dialog>
        </Modal>
      </ModalOverlay>
    </>
  )
}
