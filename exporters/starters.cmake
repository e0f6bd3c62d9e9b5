# The starter documents, built into the program so that `new` needs no file beside it.
file(GLOB CULMWRIGHT_STARTERS CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/templates/*.json
  ${PROJECT_SOURCE_DIR}/templates/*.csv)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${CULMWRIGHT_STARTERS})
set(CULMWRIGHT_STARTERS_SOURCE ${CMAKE_CURRENT_BINARY_DIR}/starters.cpp)
set(starters "#include \"command/starters.hpp\"\n\nnamespace culmwright::command {\n\n\
const std::vector<Starter>& starters() {\n  static const std::vector<Starter> all = {\n")
foreach(file ${CULMWRIGHT_STARTERS})
  get_filename_component(name ${file} NAME)
  file(READ ${file} text)
  string(APPEND starters "{\"${name}\", R\"starter(${text})starter\"},\n")
endforeach()
string(APPEND starters "  };\n  return all;\n}\n\n}  // namespace culmwright::command\n")
file(CONFIGURE OUTPUT ${CULMWRIGHT_STARTERS_SOURCE} CONTENT "${starters}" @ONLY)
