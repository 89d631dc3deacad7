import { TreeMark } from '@underbough/pictures'
import { useState } from 'react'
import { Button as AriaButton } from 'react-aria-components/Button'
import type { TreeOverZone } from '../api/index.ts'
import { capital, Field, LinkButton, Tick } from '../look/index.ts'

/** One tree of the zone: closed it is one line; open it takes a note, can be left out, and offers a visit of its own. */
export function TreeLine(props: {
  tree: TreeOverZone
  note: string
  leftOut: boolean
  onNote(note: string): void
  onLeaveOut(out: boolean): void
}) {
  const { tree, note, leftOut, onNote, onLeaveOut } = props
  const [open, setOpen] = useState(false)
  const name = `${tree.tag} ${tree.commonName ?? tree.species}`
  return (
    <li className="walk-tree">
      <AriaButton className="walk-press" aria-expanded={open} onPress={() => setOpen(!open)}>
        <TreeMark risk={tree.risk} visited={tree.risk !== null} status={tree.status} boxPx={34} hidden />
        <span className="walk-name">
          <b>{name}</b>
          <span className="q">{capital(tree.risk ?? 'not yet rated')}</span>
        </span>
        <span className="sp walk-said">{leftOut ? 'not looked at' : note.trim() ? 'note' : 'looked at'}</span>
      </AriaButton>
      {!open && note.trim() && !leftOut ? <p className="walk-note">{note}</p> : null}
      {open ? (
        <div className="walk-open">
          <Field label={`Note on ${tree.tag}`} value={note} multiline onChange={onNote} />
          <Tick isSelected={leftOut} onChange={onLeaveOut}>
            This one was not looked at
          </Tick>
          <LinkButton to={`/trees/${tree.id}/visit`}>Begin a visit to {tree.tag}</LinkButton>
        </div>
      ) : null}
    </li>
  )
}
