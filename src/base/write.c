#include "base/write.h"

#include <errno.h>
#include <sys/types.h>
#include <unistd.h>

bool write_all(int file, const void *bytes, size_t n)
{
	const char *left = bytes;
	while (n > 0) {
		ssize_t written = write(file, left, n);
		if (written < 0 && errno == EINTR)
			continue;
		if (written < 0)
			return false;
		left += written;
		n -= (size_t)written;
	}
	return true;
}
