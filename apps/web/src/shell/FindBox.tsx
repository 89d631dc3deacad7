import { TreeMark } from '@underbough/pictures'
import { useEffect, useMemo, useState } from 'react'
import { ComboBox } from 'react-aria-components/ComboBox'
import { ListBox, ListBoxItem } from 'react-aria-components/ListBox'
import { Popover } from 'react-aria-components/Popover'
import { Input, Label } from 'react-aria-components/TextField'
import { useNavigate } from 'react-router'
import { useGroundFeatures, useMapView, useTrees } from '../api/index.ts'
import { boundsOf, middleOf } from '../map/area.ts'

/** Finds a tree by tag or species, or a street or green by name, and goes there. */
export default function FindBox({ onFound }: { onFound?: () => void }) {
  const [words, setWords] = useState('')
  const asked = useLater(words.trim(), 180)
  const go = useNavigate()
  const found = useTrees({ q: asked, limit: 8 }, asked.length > 0)
  const view = useMapView()
  const ground = useGroundFeatures(view.data?.bounds ?? null)
  const named = useMemo(() => {
    if (asked.length < 2) return []
    const wanted = asked.toLocaleLowerCase()
    const names = new Map<string, string>()
    for (const { properties, geometry } of ground.data?.features ?? []) {
      const box = boundsOf(geometry)
      if (box && properties.name?.toLocaleLowerCase().includes(wanted) && !names.has(properties.name))
        names.set(properties.name, middleOf(box).join(','))
    }
    return [...names].slice(0, 5)
  }, [asked, ground.data])
  const trees = asked && !found.isPlaceholderData ? (found.data?.trees ?? []) : []

  const choose = (key: unknown) => {
    if (typeof key !== 'string') return
    const [what, value] = key.split(':') as [string, string]
    setWords('')
    onFound?.()
    go(what === 'tree' ? `/ground?tree=${value}` : `/ground?at=${value}`)
  }
  return (
    <ComboBox
      className="find"
      inputValue={words}
      onInputChange={setWords}
      value={null}
      onChange={choose}
      menuTrigger="input"
      allowsEmptyCollection={asked.length > 0 && !found.isFetching}
      defaultFilter={() => true}
    >
      <Label className="out-of-sight">Find a tag, a species or a street</Label>
      <Input className="find-line" placeholder="Find a tag, species, street" />
      <Popover className="popover find-list" placement="bottom end">
        <ListBox
          className="list"
          renderEmptyState={() => <p className="find-none">Nothing here is called “{asked}”.</p>}
        >
          {trees.map((tree) => (
            <ListBoxItem
              key={tree.id}
              id={`tree:${tree.id}`}
              textValue={`${tree.tag} ${tree.species}`}
              className="list-item"
            >
              <TreeMark
                risk={tree.risk}
                overdue={tree.overdueDays > 0}
                visited={tree.seen}
                status={tree.status}
                boxPx={28}
                hidden
              />
              <span>
                {tree.tag} <b>{tree.commonName ?? tree.species}</b>
              </span>
              <span className="latin s sp">{tree.commonName ? tree.species : ''}</span>
            </ListBoxItem>
          ))}
          {named.map(([name, at]) => (
            <ListBoxItem key={name} id={`at:${at}`} textValue={name} className="list-item">
              <span className="find-place" aria-hidden="true" />
              <span>{name}</span>
              <span className="s q sp">street or green</span>
            </ListBoxItem>
          ))}
        </ListBox>
      </Popover>
    </ComboBox>
  )
}

/** The value as it was when a person last paused. */
function useLater<T>(value: T, ms: number): T {
  const [later, setLater] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setLater(value), ms)
    return () => clearTimeout(timer)
  }, [value, ms])
  return later
}
