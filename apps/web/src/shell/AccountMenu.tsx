import { useState } from 'react'
import { Button } from 'react-aria-components/Button'
import { Header } from 'react-aria-components/Header'
import { Menu, MenuItem, MenuSection, MenuTrigger } from 'react-aria-components/Menu'
import { Popover } from 'react-aria-components/Popover'
import { Separator } from 'react-aria-components/Separator'
import { useNavigate } from 'react-router'
import { type GroundWish, useGroundWish, wishGround } from '../look/index.ts'
import { usePerson } from './person.ts'
import { mayChange } from './places.ts'
import { SignOutDialog } from './SignOutDialog.tsx'
import { wishes } from './wishes.ts'

/** Who is signed in, day and night, and the way out. */
export default function AccountMenu() {
  const me = usePerson()
  const wish = useGroundWish()
  const [leaving, setLeaving] = useState(false)
  const go = useNavigate()
  return (
    <>
      <MenuTrigger>
        <Button className="account" aria-label={`${me.name}: account`}>
          {me.name}
          <span className="select-mark" aria-hidden="true" />
        </Button>
        <Popover className="popover" placement="bottom end">
          <Menu className="list">
            <MenuSection
              selectionMode="single"
              selectedKeys={[wish]}
              onSelectionChange={(keys) => wishGround(([...keys][0] as GroundWish) ?? 'system')}
            >
              <Header className="find-head">Ground</Header>
              {wishes.map((w) => (
                <MenuItem key={w.value} id={w.value} className="list-item">
                  {w.label}
                </MenuItem>
              ))}
            </MenuSection>
            <Separator className="list-rule" />
            {mayChange(me.role) ? (
              <>
                <MenuItem className="list-item" onAction={() => go('/import')}>
                  Bring in a list
                </MenuItem>
                <MenuItem className="list-item" onAction={() => go('/settings')}>
                  Settings
                </MenuItem>
              </>
            ) : null}
            <MenuItem className="list-item" onAction={() => setLeaving(true)}>
              Sign out
            </MenuItem>
          </Menu>
        </Popover>
      </MenuTrigger>
      {leaving ? <SignOutDialog onClose={() => setLeaving(false)} onOut={() => go('/')} /> : null}
    </>
  )
}
