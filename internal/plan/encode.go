package plan

import (
	"crypto/sha256"
	"encoding/hex"

	"github.com/go-json-experiment/json"
)

// Encode writes the plan in its one canonical form: members in the order of the
// types, collections by rising id, numbers as short as they read back the same,
// defaults and empty collections left out, no spaces, a newline at the end.
// Decoding and encoding it again gives the same bytes. It panics on a number
// that is not finite, which no decoded plan holds.
func (p *Plan) Encode() []byte {
	q := *p
	q.Format = Format
	if q.Show == "" {
		q.Show = defaultShow
	}
	doc, err := json.Marshal(&q, json.Deterministic(true), json.WithMarshalers(marshalers))
	if err != nil {
		panic("plan: " + err.Error())
	}
	return append(doc, '\n')
}

var marshalers = json.MarshalToFunc(writeVertex)

// Digest returns the SHA-256 of a document's bytes in hexadecimal.
func Digest(doc []byte) string {
	sum := sha256.Sum256(doc)
	return hex.EncodeToString(sum[:])
}
