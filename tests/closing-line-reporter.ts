import type { Reporter, TestCase, TestModule } from 'vitest/node'

/** Prints each skipped test with its reason, then the one counted line that others read. */
export default class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const counts = { passed: 0, failed: 0, skipped: 0 }
    for (const module of modules) {
      for (const test of module.children.allTests()) this.#count(test, counts)
      if (module.errors().length > 0) counts.failed += 1
    }
    const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : ''
    // The default reporter writes its own summary first; this line must be the last.
    process.once('exit', () =>
      process.stdout.write(`${counts.passed} passed, ${counts.failed} failed${skipped}\n`)
    )
  }

  #count(test: TestCase, counts: { passed: number; failed: number; skipped: number }): void {
    const result = test.result()
    if (result.state === 'passed') counts.passed += 1
    else if (result.state === 'failed') counts.failed += 1
    else {
      counts.skipped += 1
      const reason = 'note' in result && result.note ? result.note : 'its reason stands in its title'
      process.stdout.write(`skipped: ${test.fullName} (${reason})\n`)
    }
  }
}
