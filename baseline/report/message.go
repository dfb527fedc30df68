package report

import (
	"strings"
	"unicode/utf8"
)

// MessageLetters is how long a message is at most: three parts of a concatenated SMS hold 459 letters of its alphabet, and a
// screen shows so much without a "more" (assumed).
const MessageLetters = 400

// message gives the call as a short text: who and where, what, what makes it urgent, what was given. What the opening may
// leave gives way first, then when and in what state it was checked; the rest is never cut.
func (c *caller) message() string {
	defer func(was leaving, full, words []Line, moved []fact) {
		c.leaves, c.full, c.words, c.moved = was, full, words, moved
	}(c.leaves, c.full, c.words, c.moved)
	text := ""
	c.before = len(c.in.Comparison.Signs)
	for c.leaves = 0; c.leaves <= leaveNoticed; c.leaves++ {
		parts := [][]Line{c.who(), nil, c.danger(), nil}
		if noticed := bare(c.story_().Noticed); aloud(noticed) <= noticedLeast || c.leaves < leaveNoticed && aloud(noticed) <= noticedWords {
			parts[1] = c.what()
		}
		if c.leaves == 0 {
			parts[3] = c.ask()[:1]
		}
		if e := c.in.Exam; c.leaves < leaveSites && !e.At.IsZero() {
			parts[3] = append(parts[3], Line{Text: c.say("report.checked", "when", c.when(e.At, e.At), "state", c.state())})
		}
		var lines []string
		for _, p := range parts {
			for _, l := range p {
				if !l.Blank {
					lines = append(lines, l.Text)
				}
			}
		}
		if text = strings.Join(lines, "\n"); utf8.RuneCountInString(text) <= MessageLetters {
			break
		}
	}
	return text
}
