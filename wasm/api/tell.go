package api

import (
	"whorl.example/schema"
	"whorl.example/vitals/words"
)

// versions says what is running, what it reads and writes, and what it speaks.
type versions struct {
	Version string       `json:"version"`
	Kind    string       `json:"kind"`
	Format  int          `json:"format"`
	Langs   []words.Lang `json:"langs"`
}

func version(spoken) (any, error) {
	return versions{Version, schema.Kind, schema.Format, words.Langs}, nil
}

// messages gives every message of a language by key.
func messages(q spoken) (any, error) { return words.Keys(q.in()), nil }
