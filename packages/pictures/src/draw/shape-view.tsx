import { createElement, Fragment, type ReactNode } from 'react'
import { n, type Shape } from './shape.ts'

const camel = (name: string) => name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase())

function element(item: Shape | string, key: number): ReactNode {
  if (typeof item === 'string') return item
  const props: Record<string, string> = {}
  for (const [name, value] of Object.entries(item.at))
    if (value !== undefined) props[camel(name)] = typeof value === 'number' ? n(value) : value
  return createElement(item.tag, { key, ...props }, ...(item.inside ?? []).map(element))
}

/** Shapes as React elements, to be put into an `svg`. */
export function Shapes({ of }: { of: readonly Shape[] }): ReactNode {
  return createElement(Fragment, null, ...of.map(element))
}
