//go:build js && wasm && givenwords

package main

import (
	"syscall/js"

	"whorl.example/vitals/words"
)

// The core of the page has no messages until the page hands them over, English first:
//
//	whorlWords(lang: string, messages: string): void
//
// as [words.Give] takes them.
func init() {
	js.Global().Set("whorlWords", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) == 2 && args[0].Type() == js.TypeString && args[1].Type() == js.TypeString {
			words.Give(words.Lang(args[0].String()), args[1].String())
		}
		return nil
	}))
}
