import { TreeMark } from '@underbough/pictures'
import { useEffect, useState } from 'react'
import { ComboBox } from 'react-aria-components/ComboBox'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Popover } from 'react-aria-components/Popover'
import { FieldError, Input, Label } from 'react-aria-components/TextField'
import { type TreeRow, useTrees } from '../api/index.ts'

const nameOf = (tree: TreeRow) => `${tree.tag} ${tree.commonName ?? tree.species}`

/** Names one tree by its tag or species. */
export function TreePick({ refusal, onPick }: { refusal: string | null; onPick(id: string | null): void }) {
  const [words, setWords] = useState('')
  const [asked, setAsked] = useState('')
  useEffect(() => {
    const timer = setTimeout(() => setAsked(words.trim()), 180)
    return () => clearTimeout(timer)
  }, [words])
  const found = useTrees({ q: asked, limit: 8 }, asked.length > 0)
  const trees = asked ? (found.data?.trees ?? []) : []
  return (
    <ComboBox
      className="field"
      inputValue={words}
      onInputChange={(text) => {
        setWords(text)
        onPick(null)
      }}
      value={null}
      onChange={(key) => {
        const tree = trees.find((t) => t.id === key)
        if (!tree) return
        setWords(nameOf(tree))
        onPick(tree.id)
      }}
      menuTrigger="input"
      isInvalid={refusal !== null}
      allowsCustomValue
      allowsEmptyCollection={asked.length > 0 && !found.isFetching}
      defaultFilter={() => true}
    >
      <Label className="field-label">Tree, by tag or species</Label>
      <Input className="field-line" />
      <FieldError className="field-refusal">{refusal}</FieldError>
      <Popover className="popover">
        <ListBox
          className="list"
          renderEmptyState={() => <p className="find-none">No tree is called “{asked}”.</p>}
        >
          {trees.map((tree) => (
            <ListBoxItem key={tree.id} id={tree.id} textValue={nameOf(tree)} className="list-item">
              <TreeMark
                risk={tree.risk}
                overdue={tree.overdueDays > 0}
                visited={tree.seen}
                status={tree.status}
                boxPx={28}
                hidden
              />
              {nameOf(tree)}
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </ComboBox>
  )
}
