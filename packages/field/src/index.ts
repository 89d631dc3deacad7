export * from './entry.ts'
