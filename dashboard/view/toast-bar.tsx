import { hideToast, toast } from '../state/toast.ts'
import { say } from '../words/say.ts'

/** What just happened, with undo. */
export function ToastBar() {
  const now = toast.value
  return (
    <div class="toast-place" role="status">
      {now !== null && (
        <div class={`toast ${now.isBad === true ? 'toast-bad' : ''}`} key={now.key}>
          <p>{now.words}</p>
          {now.undo !== undefined && (
            <button
              type="button"
              class="button"
              onClick={() => {
                hideToast()
                now.undo?.()
              }}
            >
              {say.entry.undo}
            </button>
          )}
          <button type="button" class="button button-quiet" onClick={hideToast}>
            {say.entry.close}
          </button>
        </div>
      )}
    </div>
  )
}
