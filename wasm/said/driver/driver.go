// Package driver stands in for the standard library's database/sql/driver in the core for the browser, as
// [whorl.example/wasm/said] does for fmt: there is no database, and what the library of decimals says to one needs only
// the name of a type. From Go 1.27 on the package links cryptography, which would be 30 kB of the core.
package driver

// Value is as in the standard library.
type Value any
