import { useEffect } from 'preact/hooks'
import { knownSpecies, loadSpecies } from '../../state/species.ts'
import { say } from '../../words/say.ts'

/** Species the watch knows, by the names people use: the letters typed so far choose among them, one touch takes one. */
export function SpeciesOffers(
  given: Readonly<{ typed: string; taken: readonly string[]; onChoose: (id: string) => void }>
) {
  useEffect(() => void loadSpecies(), [])
  const typed = given.typed.trim().toLowerCase()
  const offers = (knownSpecies.value ?? []).filter(
    ({ id, commonName, scientificName }) =>
      !given.taken.includes(id) &&
      (commonName.toLowerCase().includes(typed) || scientificName.toLowerCase().includes(typed))
  )
  if (offers.length === 0) return null
  return (
    <fieldset class="field">
      <legend class="legend">{say.setup.known}</legend>
      <div class="choices choices-tight">
        {offers.map(({ id, commonName, scientificName }) => (
          <button key={id} type="button" class="choice species-offer" onClick={() => given.onChoose(id)}>
            <span class="choice-words">
              <b>{commonName}</b>
              <i class="soft" lang="la">
                {scientificName}
              </i>
            </span>
          </button>
        ))}
      </div>
    </fieldset>
  )
}
