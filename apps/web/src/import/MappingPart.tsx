import { useState } from 'react'
import { refusalsOf } from '../api/index.ts'
import { Button, count, Facts, LinkButton, Notice, Plate, Refusals } from '../look/index.ts'
import { useCancelImport, useRead } from './hooks.ts'
import { isTreeMapping, mappingLacks } from './mapping.ts'
import { ShapeSettings } from './ShapeSettings.tsx'
import { TreeColumns } from './TreeColumns.tsx'
import { TreeSettings } from './TreeSettings.tsx'
import type { Begun, ImportStatus, Mapping } from './types.ts'
import { delimiterName, kindNames, sentenceOf } from './words.ts'

interface MappingPartProps {
  begun: Begun
  status: ImportStatus
  onRead(): void
}
/** What the file holds, and what each part of it is taken for. Nothing is read before a person has said so. */
export function MappingPart({ begun, status, onRead }: MappingPartProps) {
  const { table, suggested, explanations } = begun
  const [mapping, setMapping] = useState<Mapping>(status.mapping ?? suggested)
  const read = useRead(begun.importId)
  const cancel = useCancelImport(begun.importId)
  const refusals = [...refusalsOf(read.error), ...refusalsOf(cancel.error)]
  const lacks = isTreeMapping(mapping) ? mappingLacks(mapping) : { missing: [], mind: [] }
  const { one, many } = kindNames[status.kind]
  return (
    <>
      <Plate
        title="What the file holds"
        aside={`${count(table.rows, 'row')}, ${count(table.columns.length, 'column')}`}
      >
        <div className="file-facts">
          <Facts
            rows={[
              ['Taken for', many],
              ['Form', table.format === 'csv' ? 'table of text' : 'GeoJSON'],
              ['Written in', table.encoding.toUpperCase()],
              ...(table.delimiter ? ([['Parted by', delimiterName(table.delimiter)]] as const) : []),
              ...(table.crs ? ([['Coordinates, as the file says', table.crs]] as const) : []),
            ]}
          />
        </div>
        {table.notes.length > 0 ? (
          <Notice tone="mind" title="Seen in the file:">
            <ul>
              {table.notes.map((note) => (
                <li key={`${note.code}-${note.path}`}>{note.message || sentenceOf(note.code)}</li>
              ))}
            </ul>
          </Notice>
        ) : null}
        {isTreeMapping(mapping) ? (
          <TreeColumns
            table={table}
            guesses={explanations?.columns ?? []}
            mapping={mapping}
            onChange={setMapping}
          />
        ) : null}
      </Plate>
      <Plate title="How it is written">
        {isTreeMapping(mapping) ? (
          <TreeSettings
            mapping={mapping}
            because={explanations?.settings ?? {}}
            refusals={refusals}
            onChange={setMapping}
          />
        ) : (
          <ShapeSettings mapping={mapping} table={table} refusals={refusals} onChange={setMapping} />
        )}
      </Plate>
      {lacks.missing.length + lacks.mind.length > 0 ? (
        <Notice
          tone="mind"
          title={lacks.missing.length > 0 ? 'It cannot be read like this yet.' : 'Good to know:'}
        >
          <ul>
            {[...lacks.missing, ...lacks.mind].map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </Notice>
      ) : null}
      <Refusals
        title="It was not read."
        refusals={refusals}
        kept="Your mapping is still here, and nothing was written."
      />
      <div className="row c wrap import-end">
        <Button
          kind="do"
          isDisabled={read.isPending || lacks.missing.length > 0}
          onPress={() => read.mutate(mapping, { onSuccess: onRead })}
        >
          Read with this mapping
        </Button>
        <Button isDisabled={cancel.isPending} onPress={() => cancel.mutate()}>
          Cancel
        </Button>
        <LinkButton to="/import" kind="quiet">
          Another file
        </LinkButton>
        <span className="s q">This only reads. You see every {one} before any is brought in.</span>
      </div>
    </>
  )
}
