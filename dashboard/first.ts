import { askEarly } from './feed/early.ts'
import { recall } from './state/memory.ts'

/**
 * A small script that runs while the page's own is still on its way: it asks what the page will ask first, and keeps
 * the screen as dark as it was when it was last looked at.
 */
document.documentElement.dataset.theme = recall('shown-theme') ?? 'paper'
askEarly('/api/me')
const tankId = location.hash.split('/')[2] || recall('tank')
if (tankId !== null) {
  askEarly('/api/tanks')
  askEarly(`/api/tanks/${encodeURIComponent(decodeURIComponent(tankId))}/now`)
}
