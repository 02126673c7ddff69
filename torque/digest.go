package torque

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"
)

// digestVersion begins what is digested. It changes with the encoding, and with it every
// digest.
const digestVersion = "closefit tightening plan 2"

// Digest identifies the plan by 64 hexadecimal digits. Two plans have the same digest
// only if they have the same name, the same steps and the same groups of single-use
// bolts. The places of bolts and their parts matter only through the order.
func (p *Plan) Digest() string { return p.digest }

// sum returns the digest: the SHA-256 of the version, the name, the groups and every step
// with every digit of its quantities. Each text stands behind its length, and each list
// behind its number, so that no two plans are written alike.
func (p *Plan) sum() string {
	b := make([]byte, 0, 128*len(p.steps))
	text := func(fields ...string) {
		for _, f := range fields {
			b = append(strconv.AppendInt(b, int64(len(f)), 10), ':')
			b = append(b, f...)
		}
	}
	number := func(n int) { b = append(strconv.AppendInt(b, int64(n), 10), ';') }
	text(digestVersion, p.name)
	number(len(p.groups))
	for _, g := range p.groups {
		text(g.Name, strconv.FormatBool(g.singleUse()))
		number(len(g.Stages))
		for _, stage := range g.Stages {
			text(stage.DuringGroup)
			number(stage.DuringStage)
		}
	}
	number(len(p.steps))
	var last Step
	var exact []string
	for _, s := range p.steps {
		if s.IsPause() || last.IsPause() || s.Group != last.Group || s.Stage != last.Stage {
			exact = append([]string{s.Do.kind()}, s.Do.do.exact()...)
		}
		last = s
		text(s.Group)
		number(s.Stage)
		text(s.Bolt)
		number(len(exact))
		text(exact...)
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
