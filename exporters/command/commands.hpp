#pragma once
/// The commands, in the order in which a maker meets them. Each adds itself to the program.
#include "command/command.hpp"

namespace culmwright::command {

Command new_command(CLI::App& app);
Command survey_command(CLI::App& app);
Command propose_command(CLI::App& app);
Command check_command(CLI::App& app);
Command shift_command(CLI::App& app);
Command remeasure_command(CLI::App& app);
Command transfer_command(CLI::App& app);
Command rank_command(CLI::App& app);
Command template_command(CLI::App& app);
Command guide_command(CLI::App& app);
Command cups_command(CLI::App& app);
Command hand_command(CLI::App& app);
Command compare_command(CLI::App& app);
Command sign_command(CLI::App& app);
Command as_drilled_command(CLI::App& app);
Command sheet_command(CLI::App& app);
Command make_command(CLI::App& app);

constexpr Command (*all_commands[])(CLI::App&) = {
    new_command,      survey_command, propose_command,    check_command, shift_command, remeasure_command,
    transfer_command, rank_command,   template_command,   guide_command, cups_command,  hand_command,
    compare_command,  sign_command,   as_drilled_command, sheet_command, make_command};

}  // namespace culmwright::command
