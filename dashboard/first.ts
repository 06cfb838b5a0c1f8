// Runs before anything is painted: keeps the screen as dark as it was when it was last looked at.
try {
  document.documentElement.dataset.theme = localStorage.getItem('shoal:shown-theme') ?? 'paper'
} catch {
  document.documentElement.dataset.theme = 'paper'
}
