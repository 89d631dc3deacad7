// The page may not make code from text: the checks of records run without it. Said before the first of them is made, or they try.
globalThis.__zod_globalConfig = { jitless: true }
