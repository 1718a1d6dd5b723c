using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>
/// A row of <c>change_odds.csv</c>: a month that is read against a history; the history's own count stands in its first row.
/// </summary>
/// <param name="Measure">The measure's id.</param>
/// <param name="Period">ISO 8601 month, or interval of months for the history.</param>
/// <param name="Part"><c>history</c> or <c>report</c>.</param>
/// <param name="Count">Its count.</param>
/// <param name="LogOdds">ln S of the counts alone after this month; null for the history and where there is too little to judge.</param>
/// <param name="Limit">What ln S must reach, with or without case mix.</param>
/// <param name="State">The state after this month by the counts alone.</param>
/// <param name="Expected">Events that the month's cases would have at the history's rate, given their case mix; null where that is not
/// followed.</param>
/// <param name="LogOddsGivenMix">ln S with the case mix inside; null where it is not followed.</param>
/// <param name="StateGivenMix">The state after this month given the case mix, which decides; empty where it is not followed.</param>
internal sealed record ChangeOddsRow(
    string Measure, string Period, string Part, Count Count, double? LogOdds, double? Limit, string State, double? Expected,
    double? LogOddsGivenMix, string StateGivenMix);

/// <summary><c>change_odds.csv</c>: the monthly test, month by month.</summary>
internal static class ChangeOddsTable
{
    public static readonly CsvTable<ChangeOddsRow> Table = new CsvTable<ChangeOddsRow>(
        "tables/change_odds.csv",
        "The monthly test of the headline measures, month by month",
        "For each history one row (part history), then one row for each month that is compared with it (part report).")
        .Measure(row => row.Measure).Period(row => row.Period)
        .Word("part", "history for the months compared with, report for a month that is compared.", row => row.Part, "history", "report")
        .Count(row => row.Count)
        .Decimal("log_odds", "Natural logarithm of the odds of a change after this month, unadjusted; empty where it is not worked out.",
            row => row.LogOdds)
        .Decimal("limit", "The test signals when the logarithm reaches this.", row => row.Limit)
        .Text(State("state", "State of the unadjusted test after this month; empty for a history."), row => row.State)
        .Decimal(SharedColumns.Positive("expected",
            "Events expected for the month's case mix at the history's rate; empty without adjustment for case mix."), row => row.Expected)
        .Decimal("log_odds_given_case_mix", "The same logarithm, adjusted for case mix; empty without adjustment.",
            row => row.LogOddsGivenMix)
        .Text(State("state_given_case_mix",
            "State of the test adjusted for case mix, which decides where there is one; empty without adjustment."),
            row => row.StateGivenMix);

    private static ColumnSchema State(string name, string meaning) =>
        new(name, ColumnType.Text, meaning) { Allowed = ["too_few_to_judge", "no_sign_of_change", "change_signal"] };
}
