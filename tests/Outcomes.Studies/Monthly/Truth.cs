using System.Collections.Immutable;

namespace Outcomes.Studies.Monthly;

/// <summary>How the true event rate of a measure goes from month to month, and what counts as noticing it.</summary>
/// <param name="Name">As the tables say it.</param>
/// <param name="Rate">Rate of a report (0-based; negative: a month of the history), and half the history's length.</param>
/// <param name="From">The report of the change that is to be noticed.</param>
/// <param name="Worse">Its way; null: any signal counts.</param>
/// <param name="Count">Which departments and signals count.</param>
/// <param name="Reports">Reports followed.</param>
internal sealed record Truth(
    string Name, Func<int, int, double> Rate, int From, bool? Worse, Counting Count, int Reports = Truth.Horizon)
{
    public const int Horizon = 36;

    /// <summary>A year's reports.</summary>
    public const int Year = 12;

    public double[] Rates(int history) =>
        [.. Enumerable.Range(-history, history + Reports).Select(report => Rate(report, history / 2))];

    private static Truth Step(string name, double before, double after, int from) => new(
        name, (report, _) => report < from ? before : after, from, after > before, Counting.WithinAYearIfNoneBefore);

    private static Truth Again(string name, double first, double second, double third, bool worse = true, int from = 24) => new(
        name, (report, _) => report < 6 ? first : report < from ? second : third, from, worse, Counting.WithinAYear);

    private static Truth Season(string name, double swing) => new(
        name, (report, half) => 0.15 + (swing * Math.Sin(2 * Math.PI * (report + (2 * half)) / 12)), 0, null, Counting.Any);

    /// <summary>The rows of the table, in order.</summary>
    public static ImmutableArray<Truth> All { get; } =
    [
        Step("85 > 70 % in month 1", 0.15, 0.30, 0),
        Step("85 > 70 % in month 13", 0.15, 0.30, 12),
        Step("85 > 70 % in month 25", 0.15, 0.30, 24),
        Step("85 > 75 % in month 1", 0.15, 0.25, 0),
        Step("85 > 75 % in month 13", 0.15, 0.25, 12),
        Step("85 > 75 % in month 25", 0.15, 0.25, 24),
        Step("5 > 10 % bad in month 13", 0.05, 0.10, 12),
        Step("8 > 16 % bad in month 13", 0.08, 0.16, 12),
        Step("20 > 10 % bad in month 1", 0.20, 0.10, 0),
        Step("20 > 10 % bad in month 13", 0.20, 0.10, 12),
        Step("20 > 10 % bad in month 25", 0.20, 0.10, 24),
        Again("relapse 21 > 10 > 21 %", 0.21, 0.10, 0.21),
        Again("relapse 21 > 10 > 25 %", 0.21, 0.10, 0.25),
        new("better in the 18 months at 10 %", (report, _) => report < 6 ? 0.21 : report < 24 ? 0.10 : 0.25, 24, false, Counting.Before),
        new("second step 10 > 17 > 26 %", (report, _) => report < 6 ? 0.10 : report < 18 ? 0.17 : 0.26, 18, true, Counting.WithinAYear),
        new("drift 15 > 30 % over 36", (report, _) => report < 0 ? 0.15 : 0.15 + (0.15 * (report + 1) / 36), 0, true, Counting.Any),
        new("drift 15 > 30 % over 72", (report, _) => report < 0 ? 0.15 : 0.15 + (0.15 * (report + 1) / 72), 0, true, Counting.Any, 72),
        Season("false: season of 5 points", 0.05),
        Season("false: season of 8 points", 0.08),
        new("false: one month at 50 %", (report, _) => report == 12 ? 0.5 : 0.15, 0, null, Counting.Any),
        new("false: step 15 > 30 % inside the history", (report, half) => report < -half ? 0.15 : 0.30, 0, null, Counting.Any),
        new("false: step 30 > 15 % inside the history", (report, half) => report < -half ? 0.30 : 0.15, 0, null, Counting.Any),
        new("false: six stable years", (_, _) => 0.15, 0, null, Counting.Any, 72),
        new("false: second signal within 24 months of a true one", (report, _) => report < 0 ? 0.15 : 0.30, 0, null, Counting.Second),
    ];
}

/// <summary>Which departments and signals count as noticed.</summary>
internal enum Counting
{
    /// <summary>First signal within twelve reports and the right way, among departments without one before the change.</summary>
    WithinAYearIfNoneBefore,

    /// <summary>Any signal the right way within twelve reports of the change, among all.</summary>
    WithinAYear,

    /// <summary>Any signal the right way before the last change, among all.</summary>
    Before,

    /// <summary>Any signal (the right way) in any report, among all.</summary>
    Any,

    /// <summary>A second signal within 24 reports of the first, among those with one.</summary>
    Second,
}
