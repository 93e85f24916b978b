package jobfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"grainstack/slicing/phrase"
)

// What a newer program of the same version wrote into a job and this one doesn't know is kept and written again: fields of the
// job, of its settings and of whatever else has names, the trials among them by theirs. Lists of places are not looked into.

// unknown is what of a decoded job file has no place in a type: nested by field name, nil where there is nothing.
func unknown(t reflect.Type, v any) any {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if reflect.PointerTo(t).Implements(reflect.TypeFor[json.Marshaler]()) {
		return nil // it writes itself
	}
	rest := map[string]any{}
	switch v := v.(type) {
	case map[string]any:
		if t.Kind() != reflect.Struct {
			return nil
		}
		for name, value := range v {
			field, known := fieldOf(t, name)
			if !known {
				rest[name] = value
			} else if inside := unknown(field, value); inside != nil {
				rest[name] = inside
			}
		}
	case []any:
		if t.Kind() != reflect.Slice {
			return nil
		}
		for _, value := range v {
			if name, ok := nameOf(value); ok {
				if inside := unknown(t.Elem(), value); inside != nil {
					rest[name] = inside
				}
			}
		}
	}
	if len(rest) == 0 {
		return nil
	}
	return rest
}

// nameOf is the name of an object that has one.
func nameOf(v any) (name string, ok bool) {
	object, _ := v.(map[string]any)
	name, ok = object["name"].(string)
	return name, ok
}

// fieldOf is the type of the field that a name in a file stands for, as package json finds it.
func fieldOf(t reflect.Type, name string) (reflect.Type, bool) {
	for _, f := range reflect.VisibleFields(t) {
		tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if tag == "" {
			tag = f.Name
		}
		if f.IsExported() && !f.Anonymous && tag != "-" && strings.EqualFold(tag, name) {
			return f.Type, true
		}
	}
	return nil, false
}

// unknownIn is what of a job file this program doesn't know.
func unknownIn(text []byte) any {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	var all any
	if d.Decode(&all) != nil {
		return nil
	}
	return unknown(reflect.TypeFor[File](), all)
}

// with is a JSON value with what was not known put in again, behind what there is.
func with(text json.RawMessage, rest any) (json.RawMessage, error) {
	more, ok := rest.(map[string]any)
	if !ok {
		return text, nil
	}
	if bytes.HasPrefix(bytes.TrimSpace(text), []byte("[")) {
		return withNamed(text, more)
	}
	members, err := membersOf(text)
	if err != nil {
		return nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(more)) {
		at := -1
		for i, m := range members {
			if m.Name == name {
				at = i
			}
		}
		if at < 0 {
			value, err := json.Marshal(more[name])
			if err != nil {
				return nil, err
			}
			members = append(members, phrase.Member{Name: name, Value: value})
		} else if members[at].Value, err = with(members[at].Value, more[name]); err != nil {
			return nil, err
		}
	}
	return phrase.Object(members)
}

// withNamed does the same for the objects of a list that have a name.
func withNamed(text json.RawMessage, more map[string]any) (json.RawMessage, error) {
	var list []json.RawMessage
	if err := json.Unmarshal(text, &list); err != nil {
		return nil, err
	}
	for i, value := range list {
		var named struct {
			Name string `json:"name"`
		}
		if json.Unmarshal(value, &named) != nil || more[named.Name] == nil {
			continue
		}
		var err error
		if list[i], err = with(value, more[named.Name]); err != nil {
			return nil, err
		}
	}
	return json.Marshal(list)
}

// membersOf are the fields of an object in their order.
func membersOf(text json.RawMessage) (out []phrase.Member, err error) {
	d := json.NewDecoder(bytes.NewReader(text))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, fmt.Errorf("%s is no object", text[:min(len(text), 20)])
	}
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return nil, err
		}
		m := phrase.Member{Name: t.(string)} // the decoder gives nothing else there
		if err := d.Decode(&m.Value); err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}
