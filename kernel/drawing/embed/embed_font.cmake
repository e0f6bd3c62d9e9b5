# The letters of the drawings: DejaVu Sans Condensed, from Debian's fonts-dejavu-extra, built into the program,
# so that every machine measures and draws the same text.
set(CULMWRIGHT_FONT_HINTS /usr/share/fonts/truetype/dejavu /usr/share/fonts/dejavu /usr/share/fonts/TTF
    /usr/local/share/fonts)
find_file(CULMWRIGHT_FONT_REGULAR DejaVuSansCondensed.ttf PATHS ${CULMWRIGHT_FONT_HINTS} NO_DEFAULT_PATH)
find_file(CULMWRIGHT_FONT_BOLD DejaVuSansCondensed-Bold.ttf PATHS ${CULMWRIGHT_FONT_HINTS} NO_DEFAULT_PATH)
if(NOT CULMWRIGHT_FONT_REGULAR OR NOT CULMWRIGHT_FONT_BOLD)
  message(FATAL_ERROR "The font DejaVu Sans Condensed is missing. On Debian: apt-get install fonts-dejavu-extra; "
    "elsewhere set CULMWRIGHT_FONT_REGULAR and CULMWRIGHT_FONT_BOLD to its two .ttf files.")
endif()
file(SHA256 ${CULMWRIGHT_FONT_REGULAR} CULMWRIGHT_FONT_DIGEST)
if(NOT CULMWRIGHT_FONT_DIGEST STREQUAL "2d8aa290adcf1ebcbb35f63e57cf32941b012eaab4b65096b904112cf3bac972")
  message(WARNING "This is not version 2.37 of DejaVu Sans Condensed: drawings will differ in bytes from those "
    "made elsewhere, and in widths of text if the letters do.")
endif()

set(CULMWRIGHT_FONT_SOURCE ${CMAKE_CURRENT_BINARY_DIR}/embedded_font.cpp)
add_executable(embed_font ${CMAKE_CURRENT_LIST_DIR}/embed_font.cpp
  ${CMAKE_CURRENT_LIST_DIR}/../true_type.cpp ${CMAKE_CURRENT_LIST_DIR}/../true_type_subset.cpp)
target_link_libraries(embed_font PRIVATE culmwright_options)
add_custom_command(OUTPUT ${CULMWRIGHT_FONT_SOURCE}
  COMMAND embed_font ${CULMWRIGHT_FONT_REGULAR} ${CULMWRIGHT_FONT_BOLD} ${CULMWRIGHT_FONT_SOURCE}
  DEPENDS embed_font ${CULMWRIGHT_FONT_REGULAR} ${CULMWRIGHT_FONT_BOLD} VERBATIM)
target_sources(culmwright_drawing PRIVATE ${CULMWRIGHT_FONT_SOURCE})
