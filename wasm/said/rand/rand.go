// Package rand stands in for the standard library's math/rand in the core for the browser, as [whorl.example/wasm/said] does
// for fmt. The core knows no chance: math/big names these for searching primes, which decimals do not do. From
// Go 1.27 on the package brings the settings of programs with it, which would be 12 kB of the core.
package rand

// Source is as in the standard library.
type Source interface{ Int63() int64 }

// Rand is as in the standard library, but gives no chance.
type Rand struct{}

// NewSource gives no source.
func NewSource(int64) Source { return nil }

// New gives what gives no chance.
func New(Source) *Rand { return &Rand{} }

// Uint32 gives 0.
func (*Rand) Uint32() uint32 { return 0 }
