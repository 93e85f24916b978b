package phrase

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
)

// JSON is what is wrong with a JSON text, in words for a maker: err is what package json said of it. Other errors come back as
// they are.
func JSON(text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the file stops too early")
	case errors.As(err, &syntax):
		if syntax.Offset >= int64(len(text)) {
			return errors.New("the file stops too early")
		}
		return fmt.Errorf("line %d: %w", Line(text, syntax.Offset), err)
	case errors.As(err, &kind):
		wants := wanted(kind.Type)
		if kind.Field == "" {
			return fmt.Errorf("%s stands where %s ought to", article(kind.Value), wants)
		}
		return fmt.Errorf("%q holds %s and wants %s", written(kind.Field, text), article(kind.Value), wants)
	}
	if name, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		return errors.New("nothing is called " + name)
	}
	return err
}

// written is the path of a field as it is written in a text, without the groups that package json names and no file has.
func written(path string, text []byte) string {
	text = bytes.ToLower(text)
	return strings.Join(slices.DeleteFunc(strings.Split(path, "."), func(name string) bool {
		return !bytes.Contains(text, []byte(`"`+strings.ToLower(name)+`"`))
	}), ".")
}

// Line is the number of the line, from 1, that a byte of a text stands on.
func Line(text []byte, offset int64) int {
	return 1 + bytes.Count(text[:min(max(offset, 0), int64(len(text)))], []byte("\n"))
}

// article is a value of JSON with its article, as package json names it.
func article(value string) string {
	if value == "array" || value == "object" {
		return "an " + value
	}
	return "a " + value
}

// wanted is the JSON that a type is read from.
func wanted(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64, reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return "a whole number"
	case reflect.Float32, reflect.Float64:
		return "a number"
	case reflect.String:
		return "words in quotes"
	case reflect.Slice, reflect.Array:
		return "a list in brackets"
	}
	return "an entry in braces"
}

// A Member is one field of a JSON object.
type Member struct {
	Name  string
	Value json.RawMessage
}

// Object is the JSON object that has these fields in this order.
func Object(members []Member) (json.RawMessage, error) {
	var out bytes.Buffer
	out.WriteByte('{')
	for i, m := range members {
		name, err := json.Marshal(m.Name)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			out.WriteByte(',')
		}
		fmt.Fprintf(&out, "%s:%s", name, m.Value)
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}
