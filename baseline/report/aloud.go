package report

import (
	"strings"
	"unicode/utf8"

	"whorl.example/vitals/words"
)

// Chunk is what is read aloud in one breath: it fills a small screen in large type.
type Chunk struct {
	Part PartID `json:"part"`
	// Heading of the part, for the eye; it is not said.
	Heading string `json:"heading"`
	// Pieces are said one after the other.
	Pieces []Piece `json:"pieces"`
	Strong bool    `json:"strong,omitempty"`
	// Blank: nothing was entered, and it will be asked. It is not said; the answer is to be
	// ready. Each piece is one question.
	Blank bool `json:"blank,omitempty"`
}

// Text is the chunk as it is said.
func (c Chunk) Text() string {
	var b strings.Builder
	for _, p := range c.Pieces {
		b.WriteString(p.Say)
	}
	return b.String()
}

// chunkLetters is how many letters a chunk may have before it is parted: nine lines of
// twenty letters fill a screen of 360 px in type of 28 px, less what is lost where words do not fill a line.
const chunkLetters = 150

// Aloud gives the report as it is read aloud on the telephone, in the order in which it is
// told, with the numbers as they are said. [Call] keeps it under two minutes. The questions
// of a part that nothing was entered for come after what is said of it, as one chunk.
func (r Report) Aloud() []Chunk {
	var out []Chunk
	for _, p := range r.Parts {
		if !p.ID.Aloud() {
			continue
		}
		var asked []Piece
		from := len(out)
		for _, l := range p.Lines {
			if l.Blank {
				asked = append(asked, Piece{Say: strings.TrimSuffix(l.Text, ":")})
				continue
			}
			for _, text := range breaths(l.Text, r.Lang) {
				said := Chunk{Part: p.ID, Heading: p.Heading, Pieces: Spell(text, r.Lang), Strong: l.Strong}
				last := len(out) - 1
				// Short lines of one part share a breath.
				if last >= from && out[last].Strong == l.Strong && utf8.RuneCountInString(out[last].Text()+said.Text()) < chunkLetters {
					out[last].Pieces = append(append(out[last].Pieces, Piece{Say: " "}), said.Pieces...)
					continue
				}
				out = append(out, said)
			}
		}
		if asked != nil {
			out = append(out, Chunk{Part: p.ID, Heading: p.Heading, Pieces: asked, Blank: true})
		}
	}
	return out
}

// breaths parts a text that is long when it is said where one would take a breath: after a
// sentence, else after a semicolon, else after a comma, else between words.
func breaths(text string, lang words.Lang) []string {
	length := func(text string) int { return utf8.RuneCountInString(Chunk{Pieces: Spell(text, lang)}.Text()) }
	if length(text) <= chunkLetters {
		return []string{text}
	}
	for _, mark := range []string{". ", "; ", ", ", " "} {
		best := -1
		for at := 0; ; {
			i := strings.Index(text[at:], mark)
			if i < 0 {
				break
			}
			at += i + len(mark)
			if length(text[:at]) > chunkLetters {
				break
			}
			best = at
		}
		// A breath after a word or two is none.
		if best > 0 && (mark == " " || length(text[:best]) >= chunkLetters/4) {
			return append([]string{strings.TrimSpace(text[:best])}, breaths(strings.TrimSpace(text[best:]), lang)...)
		}
	}
	return []string{text}
}
