# Debian packages by CPack: the program, the shared library, what is needed to build with it, and the
# Python module.
#   cmake -DBUILD_SHARED_LIBS=ON -DWILTLINE_PYTHON=ON -DCMAKE_INSTALL_PREFIX=/usr … && cpack -G DEB
set(wiltline_library_package libwiltline${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR})
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME wiltline)
set(CPACK_PACKAGE_VENDOR "the wiltline authors")
set(CPACK_PACKAGE_CONTACT "the wiltline authors <wiltline@localhost>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(wiltline_parts program library dev)
if(WILTLINE_PYTHON)
  list(APPEND wiltline_parts python)
endif()
set(CPACK_COMPONENTS_ALL ${wiltline_parts})
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS_PRIVATE_DIRS ${PROJECT_BINARY_DIR}/lib)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS_POLICY ">=")
# The first line of each is the package's own; no summary of all goes before it.
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION "water account of every pot in a container garden
Says which pot goes dry, when, and what would have prevented it, from
daily weather and a table of pots.")
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION "water account of pots: shared library
What the program of the same name computes, for programs in C++.")
set(CPACK_COMPONENT_DEV_DESCRIPTION "water account of pots: headers and build files
Headers, CMake package and pkg-config file of the library.")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME wiltline)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME ${wiltline_library_package})
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libs)
# The linker's cache is brought up to date once for all that is installed.
file(WRITE ${CMAKE_CURRENT_BINARY_DIR}/triggers "activate-noawait ldconfig\n")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_CONTROL_EXTRA ${CMAKE_CURRENT_BINARY_DIR}/triggers)
set(CPACK_DEBIAN_DEV_PACKAGE_NAME libwiltline-dev)
set(CPACK_DEBIAN_DEV_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS "${wiltline_library_package} (= ${PROJECT_VERSION})")
set(CPACK_DEBIAN_DEV_PACKAGE_DEPENDS "${wiltline_library_package} (= ${PROJECT_VERSION})")
set(CPACK_DEBIAN_DEV_PACKAGE_SHLIBDEPS OFF)

if(WILTLINE_PYTHON)
  find_package(Python 3 REQUIRED COMPONENTS Interpreter Development.Module)
  math(EXPR next_minor "${Python_VERSION_MINOR} + 1")
  set(CPACK_COMPONENT_PYTHON_DESCRIPTION "water account of pots: Python module
What the program of the same name computes, as NumPy arrays.")
  set(CPACK_DEBIAN_PYTHON_PACKAGE_NAME python3-wiltline)
  set(CPACK_DEBIAN_PYTHON_PACKAGE_SECTION python)
  # A module is built for one minor version of Python.
  string(CONCAT CPACK_DEBIAN_PYTHON_PACKAGE_DEPENDS
    "${wiltline_library_package} (= ${PROJECT_VERSION}), python3-numpy, "
    "python3 (>= 3.${Python_VERSION_MINOR}), python3 (<< 3.${next_minor})")
endif()

# Each package carries its licence and a changelog, as Debian's rules ask.
configure_file(${CMAKE_CURRENT_LIST_DIR}/changelog.in ${CMAKE_CURRENT_BINARY_DIR}/changelog @ONLY)
execute_process(COMMAND gzip -9nkf ${CMAKE_CURRENT_BINARY_DIR}/changelog)
# D3 is in the program, for its pages.
file(READ ${PROJECT_SOURCE_DIR}/LICENSE licence)
file(READ ${WILTLINE_D3_LICENCE} d3_licence)
file(WRITE ${CMAKE_CURRENT_BINARY_DIR}/copyright-program
  "${licence}\nThe program holds D3 (Debian's libjs-d3), which draws the pictures of its pages:\n\n${d3_licence}")
foreach(part IN LISTS wiltline_parts)
  string(TOUPPER ${part} upper)
  set(copyright ${PROJECT_SOURCE_DIR}/LICENSE)
  if(part STREQUAL program)
    set(copyright ${CMAKE_CURRENT_BINARY_DIR}/copyright-program)
  endif()
  set(folder ${CMAKE_INSTALL_DATADIR}/doc/${CPACK_DEBIAN_${upper}_PACKAGE_NAME})
  install(FILES ${copyright} DESTINATION ${folder} RENAME copyright COMPONENT ${part})
  install(FILES ${CMAKE_CURRENT_BINARY_DIR}/changelog.gz DESTINATION ${folder} COMPONENT ${part})
endforeach()
include(CPack)
