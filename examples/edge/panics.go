//go:build panics

package main

import "net/http"

// A worker built with -tags=panics has an operation that fails, to see what becomes of it.
func init() {
	route = func(w http.ResponseWriter, q *http.Request) {
		if q.URL.Path == "/panic" {
			panic("asked for")
		}
		answer(w, q)
	}
}
