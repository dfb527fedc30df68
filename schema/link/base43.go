package link

import "errors"

// base43 is the alphabet of QR's alphanumeric mode (ISO/IEC 18004) without the space and
// the percent sign, which a URL cannot carry as they are. As in Base45 (RFC 9285) two
// bytes make three characters and a last single byte two: 43³ = 79507 is still more than
// 65535, so leaving the two out costs no length.
const base43 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ$*+-./:"

const base = len(base43)

var errBase43 = errors.New("not base 43")

func encode43(data []byte) string {
	out := make([]byte, 0, (len(data)+1)/2*3)
	for ; len(data) >= 2; data = data[2:] {
		n := int(data[0])<<8 | int(data[1])
		out = append(out, base43[n%base], base43[n/base%base], base43[n/base/base])
	}
	if len(data) == 1 {
		n := int(data[0])
		out = append(out, base43[n%base], base43[n/base])
	}
	return string(out)
}

// decode43 accepts only what encode43 writes: no other character, no group above its
// bytes' range, no group of one character.
func decode43(text string) ([]byte, error) {
	if len(text)%3 == 1 {
		return nil, errBase43
	}
	out := make([]byte, 0, len(text)/3*2+1)
	for len(text) > 0 {
		group := min(3, len(text))
		n := 0
		for i := group - 1; i >= 0; i-- {
			d := digit43(text[i])
			if d < 0 {
				return nil, errBase43
			}
			n = n*base + d
		}
		if group == 3 {
			if n > 0xffff {
				return nil, errBase43
			}
			out = append(out, byte(n>>8), byte(n))
		} else {
			if n > 0xff {
				return nil, errBase43
			}
			out = append(out, byte(n))
		}
		text = text[group:]
	}
	return out, nil
}

func digit43(c byte) int {
	for i := range base {
		if base43[i] == c {
			return i
		}
	}
	return -1
}
