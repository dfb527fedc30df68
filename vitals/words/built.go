//go:build !givenwords

package words

// messages gives what the library says in a language, and whether there is a file of it.
func messages(l Lang) (tables, bool) {
	switch l {
	case English:
		return english, true
	case Spanish:
		return spanish, true
	}
	return nil, false
}
