package main

import (
	"testing"
	"time"
)

// Whoever loads the page again while it opens for the first time finds it open. Chromium gave the store to nobody any
// more when a page was left in the middle of a transaction: in 10 of 25 such visits.
func TestChromiumLoadedAgainWhileItOpens(t *testing.T) {
	t.Parallel()
	url := serve(t)
	for i := range 12 {
		p := newPhone(t, browser(t), url)
		time.Sleep(time.Duration(i) * 20 * time.Millisecond)
		p.navigate(url)
		p.until("document.querySelector('button.horse')")
		p.close()
	}
}
