#include "dump/as_nobody.h"

#include <sys/wait.h>
#include <unistd.h>

#include <iostream>

namespace stripbook::test {

int as_nobody(const std::function<bool()>& work) {
    const pid_t child = fork();
    if (child == 0) {
        const bool dropped = getuid() != 0 || (setgid(65534) == 0 && setuid(65534) == 0);
        bool right = false;
        try {
            right = dropped && work();
        } catch (const std::exception& error) {
            std::cerr << error.what() << std::endl;
            _exit(3);
        }
        _exit(right ? 0 : 1);
    }
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace stripbook::test
