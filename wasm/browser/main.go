//go:build js && wasm

// Command browser hands [whorl.example/wasm/api.Call] to JavaScript, as the global function
//
//	whorlCall(op: string, request: string): string
//
// It holds no logic and no state: everything else is in package api, where it is tested
// natively. When the function is there, the event "whorl-ready" is dispatched on the
// global object, where events exist.
package main

import (
	"syscall/js"

	"whorl.example/wasm/api"
)

// function is the name under which JavaScript finds the core.
const function = "whorlCall"

// misused answers a call that does not hand over two strings.
const misused = `{"ok":false,"faults":[{"code":"not-text","path":"","sentence":"whorlCall takes two strings: the operation and its request."}]}`

// failed answers when even the hand-over panicked; package api recovers for itself.
const failed = `{"ok":false,"faults":[{"code":"internal","path":"","sentence":"Whorl itself failed here. What was entered is not lost: copy or export it before going on."}]}`

func main() {
	global := js.Global()
	global.Set(function, js.FuncOf(call))
	if event := global.Get("Event"); event.Truthy() && global.Get("dispatchEvent").Truthy() {
		global.Call("dispatchEvent", event.New("whorl-ready"))
	}
	// Once main returns, every later call throws.
	select {}
}

// call is the one crossing. A panic that left it would end the instance.
func call(_ js.Value, args []js.Value) (answer any) {
	defer func() {
		if recover() != nil {
			answer = failed
		}
	}()
	if len(args) != 2 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString {
		return misused
	}
	return string(api.Call(args[0].String(), []byte(args[1].String())))
}
