const longest = 32

/** A tank's id out of its name: lower-case letters, digits and hyphens; `tank` where nothing of the name is left. */
export function tankSlug(name: string, isTaken: (id: string) => boolean): string {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/ß/g, 'ss')
    .replace(/[Øø]/g, 'o')
    .replace(/[Ææ]/g, 'ae')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
  const stem = trimmed(plain.slice(0, longest)) || 'tank'
  if (!isTaken(stem)) return stem
  for (let number = 2; ; number += 1) {
    const tail = `-${number}`
    const id = trimmed(stem.slice(0, longest - tail.length)) + tail
    if (!isTaken(id)) return id
  }
}

const trimmed = (text: string): string => text.replace(/^-+|-+$/g, '')
