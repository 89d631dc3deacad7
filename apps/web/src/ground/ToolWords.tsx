import type { ReactNode } from 'react'
import { Button, Words } from '../look/index.ts'
import type { MapTool } from '../map/index.ts'

const names: readonly { value: MapTool; label: string; changes: boolean }[] = [
  { value: 'move', label: 'Move', changes: false },
  { value: 'lasso', label: 'Lasso', changes: false },
  { value: 'measure', label: 'Measure', changes: false },
  { value: 'draw-zone', label: 'Draw a zone', changes: true },
  { value: 'add-tree', label: 'Add a tree', changes: true },
]
const helps: Record<MapTool, string | null> = {
  move: null,
  lasso: 'Draw round the trees you mean.',
  measure: 'Press along the way; press the last point twice to end.',
  'draw-zone': 'Press the corners; press the first again to close it.',
  'edit-zone': 'Drag a corner; drag a middle to make one; right-press takes one away.',
  'carry-zone': null,
  'add-tree': 'Press where the tree stands.',
  'move-tree': 'Press where the tree stands.',
}

interface ToolWordsProps {
  tool: MapTool
  mayChange: boolean
  mayAdd: boolean
  measuredM: number | null
  /** What is said at the right while no drawing tool is in hand. */
  words: ReactNode
  children?: ReactNode
  onTool(tool: MapTool): void
  onPoint(): void
  onFinish(): void
}

/** The map's tools as words above it. Every drawing can be made from the keyboard: move the map under its middle and put points there. */
export function ToolWords({
  tool,
  mayChange,
  mayAdd,
  measuredM,
  words,
  children,
  onTool,
  onPoint,
  onFinish,
}: ToolWordsProps) {
  const shown = names.filter((n) => !n.changes || (n.value === 'add-tree' ? mayAdd : mayChange))
  const ends = tool === 'draw-zone' || tool === 'edit-zone' || tool === 'lasso'
  return (
    <div className="tools">
      <Words label="What the map is for now" value={tool} options={shown} onChange={onTool} />
      {children}
      <span className="tool-help" role="status">
        {helps[tool] ?? words}
        {tool === 'measure' && measuredM !== null ? (
          <b> {measuredM < 1000 ? `${measuredM.toFixed(1)} m` : `${(measuredM / 1000).toFixed(2)} km`}</b>
        ) : null}
      </span>
      {tool === 'move' ? null : (
        <span className="tool-presses">
          {tool === 'edit-zone' ? null : (
            <Button kind="quiet" className="line-press" onPress={onPoint}>
              Put a point at the middle
            </Button>
          )}
          {ends ? (
            <Button kind="quiet" className="line-press" onPress={onFinish}>
              {tool === 'edit-zone' ? 'Keep the outline' : 'Close it'}
            </Button>
          ) : null}
          <Button kind="quiet" className="line-press" onPress={() => onTool('move')}>
            Put it away
          </Button>
        </span>
      )}
    </div>
  )
}
