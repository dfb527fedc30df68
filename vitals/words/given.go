//go:build givenwords

package words

import "strings"

// given are the messages of the core in the page, by language. The page has them for itself and
// hands them over, so that nobody fetches them twice, or fetches those of a language that
// nobody asks for.
var given = map[Lang]tables{}

func messages(l Lang) (tables, bool) {
	t, ok := given[l]
	return t, ok
}

// Give hands over what [Keys] gives elsewhere: key, message, key, message, each with a NUL
// behind it. What only the page says is passed over.
func Give(l Lang, text string) {
	t := table{}
	for {
		key, rest, ok := strings.Cut(text, "\x00")
		if !ok {
			break
		}
		message, rest, _ := strings.Cut(rest, "\x00")
		if !strings.HasPrefix(key, "page.") {
			t[key] = message
		}
		text = rest
	}
	given[l] = tables{&t}
}
