using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.Monthly;

/// <summary>The rows of the study of other conditions as tables, beside those of the main study.</summary>
internal static class ConditionTables
{
    public const string Main = "as in the main study";

    /// <summary>Cases a month, and months of history.</summary>
    private static readonly ImmutableArray<string> Cells =
        [.. MonthlyStudy.Cells.Select(cell => string.Create(CultureInfo.InvariantCulture, $"{cell.Volume}/{cell.History}"))];

    /// <param name="rows">Of this study.</param>
    /// <param name="main">Of the main study.</param>
    /// <param name="lucks">Of departments by their own histories.</param>
    public static string Markdown(IReadOnlyList<ConditionRow> rows, IReadOnlyList<MonthlyRow> main,
        IEnumerable<(double Volume, double Correlation, OwnLuck Luck)> lucks)
    {
        var text = new StringBuilder();
        MonthlyTables.Head(text, "False alarms under other conditions: any signal on six stable measures in 36 reports, %",
            ["condition", .. Cells]);
        foreach (var (condition, correlation) in FalseConditions(rows))
            Line(text, string.Create(CultureInfo.InvariantCulture, $"{condition}, ρ {correlation}"),
                MonthlyStudy.Cells.Select(cell => (double?)Family(rows, main, condition, cell, correlation).Share), 1);
        text.Append('\n');
        MonthlyTables.Head(text, "Noticed within a year under other conditions, %", ["what happened", "", .. Cells]);
        foreach (var truth in ConditionStudy.Truths)
            foreach (var condition in MonthlyCondition.All.Select(each => each.Name).Prepend(Main))
                Line(text, $"{truth} | {condition}",
                    MonthlyStudy.Cells.Select(cell => (double?)Noticed(rows, main, condition, cell, truth).Share));
        text.Append('\n');
        MonthlyTables.Head(text, "One department's chance of a false signal in 36 reports, given its own first 12 months, %",
            ["cases a month", "ρ", "10th percentile", "median", "90th percentile", "mean", "at most 10 %: of 100",
                "standard errors of the three"]);
        foreach (var (volume, correlation, luck) in lucks)
            text.Append(CultureInfo.InvariantCulture, $"| {volume} | {correlation} | {string.Join(" | ",
                luck.Percentiles.Append(luck.Mean).Select(value => MonthlyTables.Rounded(100 * value, 1)))} | "
                    + $"{MonthlyTables.Rounded(100 * luck.AtMostBudget, 0)} | "
                    + $"{string.Join(" / ", luck.Errors.Select(error => MonthlyTables.Rounded(100 * error, 2)))} |\n");
        return text.ToString();
    }

    /// <summary>The lines of the first table: those of the main study first.</summary>
    public static IEnumerable<(string Condition, double Correlation)> FalseConditions(IReadOnlyList<ConditionRow> rows) =>
        ConditionStudy.Correlations.Select(correlation => (Main, correlation))
            .Concat(rows.Where(row => row.Part is "false" or "together").Select(row => (row.Condition, row.Correlation)).Distinct());

    /// <summary>The share with any signal on six measures, with its standard error.</summary>
    public static (double Share, double Error) Family(IReadOnlyList<ConditionRow> rows, IReadOnlyList<MonthlyRow> main, string condition,
        (double Volume, int History) cell, double correlation)
    {
        if (condition == Main)
            return MonthlyTables.Family(main.Where(row => row.Volume == cell.Volume
                && row.History == cell.History.ToString(CultureInfo.InvariantCulture)), correlation, SignalTests.Joint)!.Value;
        ConditionRow[] found = [.. rows.Where(row => row.Part is "false" or "together" && row.Condition == condition
            && row.Correlation == correlation && (row.Volume, row.History) == cell)];
        return found is [{ Part: "together" } one] ? (one.Share, MonthlyRow.ErrorOf(one.Share, one.Of))
            : FalseAlarms.Family(rate => found.Single(row => row.Figure == StableAndChanged.Name(rate)).Share, found[0].Of);
    }

    public static (double Share, double Error) Noticed(IReadOnlyList<ConditionRow> rows, IReadOnlyList<MonthlyRow> main, string condition,
        (double Volume, int History) cell, string truth)
    {
        if (condition == Main)
        {
            var there = main.Single(row => row.Part == "changed" && row.Test == SignalTests.Joint && row.Figure == truth
                && row.Volume == cell.Volume && row.History == cell.History.ToString(CultureInfo.InvariantCulture));
            return (there.Share, there.Error);
        }
        var found = rows.Single(row => row.Part == "noticed" && row.Condition == condition && row.Figure == truth
            && (row.Volume, row.History) == cell);
        return (found.Share, MonthlyRow.ErrorOf(found.Share, found.Of));
    }

    private static void Line(StringBuilder text, string first, IEnumerable<double?> shares, int? decimals = null) =>
        text.Append(CultureInfo.InvariantCulture, $"| {first} | {string.Join(" | ", shares.Select(share =>
            share is { } value ? MonthlyTables.Rounded(100 * value, decimals ?? (value < 0.1 ? 1 : 0)) : "-"))} |\n");
}
