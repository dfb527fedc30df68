package main

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// From the list of horses it is three touches to the words to say, with the number in sight from the second on.
func TestChromiumThreeTapsToTheWords(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.look("barn")
	p.touch("#wrong")
	p.heading(english("page.wrong.title"))
	p.look("wrong")
	p.touch("input[name=flag][value=belly]")
	p.until("document.querySelector('#strip a')")
	p.look("ticked")
	p.touch("#say")
	p.heading(english("page.say"))
	td.Cmp(t, p.taps, 3)
	p.look("say")
}
