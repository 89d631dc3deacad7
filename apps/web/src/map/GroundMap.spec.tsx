// @vitest-environment happy-dom
import { act } from 'react'
import { createRoot } from 'react-dom/client'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { FakeMap } from './fake.ts'
import { GroundMap, MapProvider } from './GroundMap.tsx'
import { plainPicture } from './picture.ts'
import type { MapTool, MapTree } from './port.ts'

Object.assign(globalThis, { IS_REACT_ACT_ENVIRONMENT: true })
const beech: MapTree = {
  id: 'beech',
  tag: '0417',
  risk: 3,
  overdue: true,
  seen: true,
  ratingOpen: false,
  status: 'standing',
  week: 20_000,
  position: [-8.248, -31.67],
}
const picture = plainPicture('paper', { trees: '1', ground: '1' })

describe('the map in its frame, over a map without an engine', () => {
  let box: HTMLElement
  let root: ReturnType<typeof createRoot>
  let fake: FakeMap
  const picked: string[] = []
  const draw = (tool: MapTool, shown = picture) =>
    act(async () =>
      root.render(
        <MapProvider make={make}>
          <GroundMap
            label="Port Maud"
            ground={[-8.26, -31.68, -8.24, -31.66]}
            picture={shown}
            tool={tool}
            onPickTree={(tree) => picked.push(tree.tag)}
            onDrawn={(hand, geometry) => picked.push(`${hand} ${geometry.type}`)}
          />
        </MapProvider>,
      ),
    )
  const make = () => fake
  beforeEach(() => {
    picked.length = 0
    fake = new FakeMap([beech])
    box = document.body.appendChild(document.createElement('div'))
    root = createRoot(box)
  })
  afterEach(() => act(async () => root.unmount()))

  it('opens once, hands over each picture and tool, and hears what a person does', async () => {
    await draw('move')
    expect(fake.opened).toBe(true)
    act(() => fake.press(beech))
    await draw('add-tree', { ...picture, filter: { overdue: true } })
    expect(fake.tool).toBe('add-tree')
    expect(fake.pictures.at(-1)!.filter).toEqual({ overdue: true })
    act(() => fake.pointAtMiddle())
    expect(picked).toEqual(['0417', 'add-tree Point'])
    expect(box.querySelector('section')!.getAttribute('aria-label')).toBe('Port Maud')
  })

  it('closes the map when the page is left', async () => {
    await draw('move')
    await act(async () => root.render(null))
    expect(fake.opened).toBe(false)
  })

  it('counts the trees inside an area', () => {
    const around = (lon: number) => ({
      type: 'Polygon' as const,
      coordinates: [
        [
          [lon - 0.001, -31.671],
          [lon + 0.001, -31.671],
          [lon + 0.001, -31.669],
          [lon - 0.001, -31.669],
          [lon - 0.001, -31.671],
        ],
      ],
    })
    expect(fake.trees(around(-8.248)).map((tree) => tree.tag)).toEqual(['0417'])
    expect(fake.trees(around(-8.25))).toEqual([])
  })
})
