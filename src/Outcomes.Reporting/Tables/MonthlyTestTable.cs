using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The log odds of a change for the worse and for the better.</summary>
internal readonly record struct TestedOdds(double? Worse, double? Better);

/// <summary>
/// A row of <c>monthly_test.csv</c>: a month that is tested; the history's own count stands in its first row.
/// </summary>
/// <param name="Measure">The measure's id.</param>
/// <param name="Period">ISO 8601 month, or interval of months for the history.</param>
/// <param name="Part"><c>history</c> or <c>report</c>.</param>
/// <param name="Count">Its count.</param>
/// <param name="Odds">The unadjusted test after this month; empty for the history and where there is too little to judge.</param>
/// <param name="Limits">What they must reach, with or without case mix.</param>
/// <param name="Expected">Events that the month's cases would have at the history's level, given their case mix; null where that is not
/// followed.</param>
/// <param name="OddsGivenMix">The test adjusted for case mix; empty where it is not followed.</param>
internal sealed record MonthlyTestRow(
    string Measure, string Period, string Part, Count Count, TestedOdds Odds, TestedOdds Limits, double? Expected,
    TestedOdds OddsGivenMix);

/// <summary><c>monthly_test.csv</c>: the monthly test, month by month.</summary>
internal static class MonthlyTestTable
{
    public static readonly CsvTable<MonthlyTestRow> Table = new CsvTable<MonthlyTestRow>(
        "tables/monthly_test.csv",
        "The monthly test of the headline measures, month by month",
        "For each measure one row for its history (part history), then one row for each month after it (part report).")
        .Measure(row => row.Measure).Period(row => row.Period)
        .Word("part", "history for the months compared with, report for a month that is tested.", row => row.Part, "history", "report")
        .Count(row => row.Count)
        .Decimal("log_odds_worse", "Log odds, after this month, that the last change was for the worse; empty where it is not worked out.",
            row => row.Odds.Worse)
        .Decimal("log_odds_better", "The same for the better.", row => row.Odds.Better)
        .Decimal("limit_worse", "The test signals a change for the worse when the log odds reach this; in the first reports the early "
            + "test may signal below it.", row => row.Limits.Worse)
        .Decimal("limit_better", "The same for the better.", row => row.Limits.Better)
        .Decimal(SharedColumns.Positive("expected",
            "Events expected for the month's case mix at the history's level; empty without adjustment for case mix."), row => row.Expected)
        .Decimal("log_odds_worse_given_case_mix", "As log_odds_worse, adjusted for case mix; empty without adjustment.",
            row => row.OddsGivenMix.Worse)
        .Decimal("log_odds_better_given_case_mix", "As log_odds_better, adjusted for case mix; empty without adjustment.",
            row => row.OddsGivenMix.Better);
}
