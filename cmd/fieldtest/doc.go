// Package fieldtest tries the program as makers do: the built command on meshes that nobody made for it, and on bad scans from
// a seed, each with random settings. What comes out is measured in the files that were written, by code that shares nothing
// with the program but the reading of its catalogue and the writing of job files.
//
// It runs where GRAINSTACK_FIELD_SET names the folder that cmd/fieldset.sh fills. One case of many, again and kept:
//
//	go test ./cmd/fieldtest -run FieldSet -v -settings 20 -pieces cow -case 7 -keep /tmp/cow
package fieldtest
