package api

import (
	"bytes"
	"slices"
	"sync"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// A page asks again and again of the same history: the comparison, the report, the code, the
// next exam of the evening. So the latest histories are remembered by their text, checked, decoded and
// with what has been worked out from them. The answer is the same to the byte.

// past is a history that was asked of before.
type past struct {
	text     [2][]byte // the members "horse" and "exams" as they stood in the request
	exams    []vitals.Exam
	baseline *baseline.Baseline
}

// Room for histories: so many, and so many bytes of text altogether.
const (
	pastMost  = 32
	pastBytes = 4 << 20
)

var pasts struct {
	sync.Mutex
	on   bool
	list []*past // latest first
}

// rememberRequest says whether histories may be remembered from now on: not where the next request may be
// another person's. Off, everything is forgotten.
type rememberRequest struct {
	spoken
	On bool `json:"on"`
}

func remember(q rememberRequest) (any, error) {
	pasts.Lock()
	defer pasts.Unlock()
	if pasts.on = q.On; !q.On {
		pasts.list = nil
	}
	return q, nil
}

// recall finds the history of a request, or else gives what it is to be remembered by. The request without
// its exams is what is left to decode.
func recall(data []byte) (p *past, rest []byte, known bool) {
	pasts.Lock()
	defer pasts.Unlock()
	if !pasts.on {
		return nil, data, false
	}
	text, at, ok := historyIn(data)
	if !ok {
		return nil, data, false
	}
	for i, p := range pasts.list {
		if bytes.Equal(p.text[1], text[1]) && bytes.Equal(p.text[0], text[0]) {
			pasts.list = slices.Insert(slices.Delete(pasts.list, i, i+1), 0, p)
			rest := append(slices.Clone(data[:at]), "[]"...)
			return p, append(rest, data[at+len(text[1]):]...), true
		}
	}
	return &past{text: text}, data, false
}

// remember keeps a history that turned out to be without faults.
func (p *past) remember(horse vitals.Horse, exams []vitals.Exam) (err error) {
	if p.baseline, err = baseline.Of(horse, exams); err != nil {
		return err
	}
	p.exams = exams
	p.text = [2][]byte{bytes.Clone(p.text[0]), bytes.Clone(p.text[1])}
	pasts.Lock()
	defer pasts.Unlock()
	if !pasts.on {
		return nil
	}
	pasts.list = slices.Insert(pasts.list, 0, p)
	size := 0
	for i, p := range pasts.list {
		if size += len(p.text[0]) + len(p.text[1]); i > 0 && size > pastBytes || i == pastMost {
			clear(pasts.list[i:])
			pasts.list = pasts.list[:i]
			break
		}
	}
	return nil
}

// historyIn finds the members "horse" and "exams" of a request, and where the exams begin. It knows no more
// of JSON than where a value ends; ok is false for anything out of the ordinary.
func historyIn(data []byte) (text [2][]byte, at int, ok bool) {
	i := space(data, 0)
	if i >= len(data) || data[i] != '{' {
		return text, 0, false
	}
	for i = space(data, i+1); i < len(data) && data[i] == '"'; i = space(data, i+1) {
		name := i + 1
		if i = ending(data, i); i < 0 {
			return text, 0, false
		}
		key := data[name : i-1]
		if i = space(data, i); i >= len(data) || data[i] != ':' {
			return text, 0, false
		}
		from := space(data, i+1)
		if i = ending(data, from); i < 0 {
			return text, 0, false
		}
		which := slices.Index([]string{"horse", "exams"}, string(key))
		if which >= 0 {
			if text[which] != nil {
				return text, 0, false // twice: a fault, which the decoder names
			}
			text[which] = data[from:i]
			if which == 1 {
				at = from
			}
		}
		if i = space(data, i); i >= len(data) || data[i] != ',' {
			break
		}
	}
	return text, at, i < len(data) && data[i] == '}' && len(text[0]) > 0 && len(text[1]) > len("[]")
}

// space goes on past white space.
func space(data []byte, i int) int {
	for i < len(data) && (data[i] == ' ' || data[i] == '\n' || data[i] == '\r' || data[i] == '\t') {
		i++
	}
	return i
}

// ending gives where the value that begins at i is over, or -1.
func ending(data []byte, i int) int {
	depth := 0
	for i < len(data) {
		switch data[i] {
		case '"':
			for i++; ; i++ {
				n := bytes.IndexByte(data[i:], '"')
				if n < 0 {
					return -1
				}
				i += n
				slashes := 0
				for data[i-1-slashes] == '\\' {
					slashes++
				}
				if slashes%2 == 0 {
					break
				}
			}
			i++
			if depth == 0 {
				return i
			}
		case '{', '[':
			depth++
			i++
		case '}', ']':
			if depth == 0 {
				return i // of a number or a word
			}
			depth--
			i++
			if depth == 0 {
				return i
			}
		case ',', ' ', '\n', '\r', '\t':
			if depth == 0 {
				return i
			}
			i++
		default:
			i++
		}
	}
	return -1
}
