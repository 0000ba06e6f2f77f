#include "base/remedy.h"

#include <errno.h>

const char *remedy_of_reading(int error)
{
	switch (error) {
	case ENOENT:
	case ENOTDIR:
		return "; is the name right?";
	case EISDIR:
		return "; a file belongs here";
	case EACCES:
	case EPERM:
		return "; let whoever runs this read it";
	default:
		return "";
	}
}

const char *remedy_of_writing(int error)
{
	switch (error) {
	case ENOENT:
		return "; make its folder first, or name another place";
	case ENOTDIR:
	case EISDIR:
		return "; name another place";
	case EACCES:
	case EPERM:
	case EROFS:
		return "; name a place where whoever runs this may write";
	case ENOSPC:
	case EDQUOT:
		return "; make room there";
	default:
		return "";
	}
}
