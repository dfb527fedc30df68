// Package godebug stands in for the standard library's internal/godebug in the core for the browser, as [whorl.example/wasm/said]
// does for fmt. Nobody sets a GODEBUG in a page; watching for one, and package internal/bisect with it, would be some 10 kB of the core.
package godebug

// Setting is as in the standard library; it has always its default.
type Setting struct{}

// New gives a setting.
func New(string) *Setting { return &Setting{} }

// Value gives the default.
func (*Setting) Value() string { return "" }

// IncNonDefault counts nothing.
func (*Setting) IncNonDefault() {}
