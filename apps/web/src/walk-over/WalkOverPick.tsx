import { useState } from 'react'
import { useZones } from '../api/index.ts'
import { Button, Dialog, LinkButton, Select } from '../look/index.ts'

/** Which zone is walked over. */
export function WalkOverPick({ onClose }: { onClose(): void }) {
  const zones = useZones()
  const [zoneId, setZoneId] = useState<string | null>(null)
  return (
    <Dialog
      title="A walk-over"
      isOpen
      onClose={onClose}
      actions={
        <>
          {zoneId ? (
            <LinkButton kind="do" to={`/zones/${zoneId}/walk-over`}>
              List its trees
            </LinkButton>
          ) : null}
          <Button onPress={onClose}>Put back</Button>
        </>
      }
    >
      <p className="q">
        All trees over a zone looked at in one go: a limited look. Only those where something was seen need a
        note; a tree that needs more is given a visit of its own.
      </p>
      <Select
        label="Zone"
        value={zoneId}
        options={(zones.data ?? []).map(({ id, name }) => ({ value: id, label: name }))}
        onChange={setZoneId}
      />
    </Dialog>
  )
}
