package store

import "syscall"

// freeSpace returns how many bytes a user may still write on the disk of a folder.
func freeSpace(folder string) (bytes uint64, known bool) {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return 0, false
	}
	return s.Bavail * uint64(s.Bsize), true
}

// diskKind names the file system of a folder if it is one of those that cannot
// be relied on to lock and sync, "" otherwise.
func diskKind(folder string) string {
	var s syscall.Statfs_t
	if err := syscall.Statfs(folder, &s); err != nil {
		return ""
	}
	return kindOf(uint32(s.Type))
}

// kindOf names a file system by its magic number. The numbers are those of
// statfs(2) and of the kernel's header linux/magic.h.
func kindOf(magic uint32) string {
	switch magic {
	case 0x6969:
		return "a network share (NFS)"
	case 0x517B, 0xFF534D42, 0xFE534D42: // SMB, CIFS, SMB2
		return "a network share (SMB)"
	case 0x65735546:
		return "a file system run by a program (FUSE), as network shares and synced folders often are"
	case 0x00C36400:
		return "a network file system (Ceph)"
	case 0x5346414F, 0x6B414653:
		return "a network file system (AFS)"
	case 0x73757245:
		return "a network file system (Coda)"
	case 0x01021997:
		return "a folder of another machine (9P)"
	}
	return ""
}
