# Before Doxygen reads a header: what leads the file is of the file, and what stands behind a member is
# of that member. Lines stay where they are.
FNR == 1 && /^\/\/ / { leads = 1; sub(/^\/\/ /, "/// @leads "); print; next }
leads && /^\/\// { sub(/^\/\//, "///"); print; next }
{ leads = 0 }
/^ *\/\/ / { if (trails) sub(/\/\/ /, "///< "); print; next }
{ trails = 0 }
!/^ *\/\// && /[^ ]  \/\/ / { trails = 1; sub(/  \/\/ /, "  ///< ") }
{ print }
