package disk

import (
	"io/fs"
	"path/filepath"
	"slices"
	"unsafe"

	"golang.org/x/sys/windows"
)

// The system's Restart Manager, which knows the programs that have a file open. Sizes and fields: restartmanager.h of the Windows SDK.
var (
	restartManager = windows.NewLazySystemDLL("rstrtmgr.dll")
	rmStart        = restartManager.NewProc("RmStartSession")
	rmRegister     = restartManager.NewProc("RmRegisterResources")
	rmList         = restartManager.NewProc("RmGetList")
	rmEnd          = restartManager.NewProc("RmEndSession")
)

// rmProcess is RM_PROCESS_INFO.
type rmProcess struct {
	id, began0, began1           uint32
	name                         [256]uint16
	service                      [64]uint16
	kind, status, of, canRestart uint32
}

const (
	mostHolders = 16  // that are asked for
	mostAsked   = 500 // files of a folder that are asked about
)

// withHolders adds to an error of a rename which programs have the file, or one in the folder, open. Where that can't be known, as of
// a folder that is only looked at, the error stays as it is.
func withHolders(err error, path string) error {
	if by := holders(filesIn(path)); len(by) > 0 {
		return &held{by, err}
	}
	return err
}

// filesIn are the names of the files in a folder and below it, or that of the file itself, for the system.
func filesIn(path string) (names []*uint16) {
	_ = filepath.WalkDir(path, func(file string, entry fs.DirEntry, err error) error {
		if err == nil && entry.Type().IsRegular() {
			if name, err := windows.UTF16PtrFromString(file); err == nil {
				names = append(names, name)
			}
		}
		if len(names) == mostAsked {
			return fs.SkipAll
		}
		return nil
	})
	return names
}

// holders are the names of the programs that have any of the files open, each once.
func holders(files []*uint16) (names []string) {
	if len(files) == 0 || rmList.Find() != nil {
		return nil
	}
	var session uint32
	var key [33]uint16
	if code, _, _ := rmStart.Call(uintptr(unsafe.Pointer(&session)), 0, uintptr(unsafe.Pointer(&key[0]))); code != 0 {
		return nil
	}
	defer rmEnd.Call(uintptr(session))
	if code, _, _ := rmRegister.Call(uintptr(session), uintptr(len(files)), uintptr(unsafe.Pointer(&files[0])), 0, 0, 0, 0); code != 0 {
		return nil
	}
	var found [mostHolders]rmProcess
	var needed, reasons uint32
	got := uint32(len(found))
	code, _, _ := rmList.Call(uintptr(session), uintptr(unsafe.Pointer(&needed)), uintptr(unsafe.Pointer(&got)), uintptr(unsafe.Pointer(&found[0])), uintptr(unsafe.Pointer(&reasons)))
	if code != 0 {
		return nil
	}
	for _, p := range found[:min(got, mostHolders)] {
		if name := windows.UTF16ToString(p.name[:]); name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}
