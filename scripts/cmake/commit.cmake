# Writes HEADER with the commit of SOURCE, at each build; a header that says so already
# stays as it is, so nothing is compiled anew. A source without a repository of its own is
# of an unknown commit, even where a folder above it has one.
cmake_minimum_required(VERSION 3.25)
set(commit unknown)
if(EXISTS ${SOURCE}/.git)
  execute_process(COMMAND git -C ${SOURCE} describe --always --abbrev=12 --dirty
                          --exclude *
                  OUTPUT_VARIABLE found OUTPUT_STRIP_TRAILING_WHITESPACE
                  RESULT_VARIABLE failed ERROR_QUIET)
  if(NOT failed AND found MATCHES "^[0-9a-f]+(-dirty)?$")
    set(commit ${found})
  endif()
endif()
file(CONFIGURE OUTPUT ${HEADER} CONTENT "#define OUTLAY_COMMIT \"@commit@\"\n" @ONLY)
