package tone

import (
	"fmt"
	"strconv"
	"strings"
)

// ParseHex is the tone of an sRGB colour written as six hexadecimal digits, with or without # before them.
func ParseHex(text string) (Lab, error) {
	digits := strings.TrimPrefix(strings.TrimSpace(text), "#")
	v, err := strconv.ParseUint(digits, 16, 32)
	if err != nil || len(digits) != 6 {
		return Lab{}, fmt.Errorf("%q is no colour: give six hexadecimal digits, as in d9b38c", text)
	}
	return FromBytes(uint8(v>>16), uint8(v>>8), uint8(v)).Lab(), nil
}

// Hex is the nearest sRGB colour in hexadecimal digits with # before them.
func (c Lab) Hex() string {
	b := c.Light().Bytes()
	return fmt.Sprintf("#%02x%02x%02x", b[0], b[1], b[2])
}
