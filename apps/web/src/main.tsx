import { QueryClientProvider } from '@tanstack/react-query'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { createBrowserRouter, RouterProvider } from 'react-router'
import { makeMemory } from './api/index.ts'
import { startColours, startGround } from './look/index.ts'
import './look/fonts.css'
import './look/tokens.css'
import './look/base.css'
import './look/pieces.css'
import './shell/shell.css'
import { routes } from './shell/routes.tsx'
import { startVersions } from './shell/version.ts'

startGround()
startColours()
const router = createBrowserRouter(routes)

// After what the page itself needs has come.
if (document.readyState === 'complete') void startVersions()
else window.addEventListener('load', () => void startVersions())

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <QueryClientProvider client={makeMemory()}>
      <RouterProvider router={router} />
    </QueryClientProvider>
  </StrictMode>,
)
