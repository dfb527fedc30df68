// Package fingerprint tells exams, and rules, that say the same from those that do not.
package fingerprint

import (
	"cmp"
	"math"
	"math/bits"
	"time"

	"github.com/shopspring/decimal"
)

// Hash is a fingerprint of what an exam says, without its ID: two exams that agree in it are one
// exam entered or brought in twice.
type Hash [2]uint64

func (p Hash) Compare(q Hash) int {
	return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
}

// mix takes a number into both halves, each by a multiplication of its own. A product of 128 bits would be better, and costs a
// browser four.
func mix(a, b, x uint64) (uint64, uint64) {
	a = (a^x)*0x9fb21c651e98df25 + 0x9e3779b97f4a7c15
	b = (b^bits.RotateLeft64(x, 32))*0xd6e8feb86659fd93 + 0xe7037ed1a0b428db
	return a ^ a>>32 ^ b, b ^ b>>29
}

func (p *Hash) Word(x uint64) { p[0], p[1] = mix(p[0], p[1], x) }

func (p *Hash) Int(n int) { p.Word(uint64(n)) }

// Text takes in the length and then the letters.
func (p *Hash) Text(s string) {
	p.Int(len(s))
	p.letters(s)
}

// letters takes in eight letters at a time; at the end some of them twice. The length is the caller's to tell.
func (p *Hash) letters(s string) {
	at := func(i int) uint64 { return uint64(s[i]) }
	four := func(i int) uint64 { return at(i) | at(i+1)<<8 | at(i+2)<<16 | at(i+3)<<24 }
	for ; len(s) >= 8; s = s[8:] {
		p.Word(uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 |
			uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56)
	}
	switch n := len(s); {
	case n >= 4:
		p.Word(four(0) | four(n-4)<<32)
	case n > 0:
		p.Word(at(0) | at(n/2)<<8 | at(n-1)<<16)
	}
}

// Decimal takes in a decimal: 38.40 as 38.4.
func (p *Hash) Decimal(d decimal.Decimal) {
	if d.NumDigits() > 15 {
		p.Text(d.String())
		return
	}
	n, exponent := d.CoefficientInt64(), d.Exponent()
	for n != 0 && n%10 == 0 {
		n, exponent = n/10, exponent+1
	}
	p.Ints(int(n), int(exponent))
}

// Ints takes in several small numbers at once.
func (p *Hash) Ints(numbers ...int) {
	x := uint64(0)
	for _, n := range numbers {
		x = x*0x9fb21c651e98df25 + uint64(n)
	}
	p.Word(x)
}

func (p *Hash) Bool(b bool) {
	if b {
		p.Word(1)
	} else {
		p.Word(0)
	}
}

// Time takes in a time, if there is one.
func (p *Hash) Time(t time.Time) {
	if p.Bool(!t.IsZero()); !t.IsZero() {
		p.Word(uint64(t.UnixNano()))
	}
}

func (p *Hash) Floats(xs ...float64) {
	for _, x := range xs {
		p.Word(math.Float64bits(x))
	}
}
