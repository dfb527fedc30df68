package main

import (
	"testing"
)

func TestChromiumLook(t *testing.T) {
	b := browser(t)
	p := newPhone(t, b, serve(t))
	p.until("document.querySelector('h1')")
	p.picture("barn")
	p.touch("Add a horse")
	p.heading("A new horse")
	p.picture("form")
	p.enter("name", "Juniper")
	p.touch("[value=mare]")
	p.touch("#go")
	p.until("document.querySelector('.summary')")
	p.picture("faults")
}
