using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Tables;

/// <summary>The columns that mean the same in several tables.</summary>
internal static class SharedColumns
{
    /// <summary>A month, or an interval of months.</summary>
    private const string PeriodPattern = @"^\d{4}-\d{2}(/\d{4}-\d{2})?$";

    public static CsvTable<T> Measure<T>(this CsvTable<T> table, Func<T, string> cell)
        where T : allows ref struct =>
        table.Word("measure", "Id of the measure. `outcomes describe ID` prints its definition.", cell);

    public static CsvTable<T> Period<T>(this CsvTable<T> table, Func<T, string> cell)
        where T : allows ref struct => table.Text(
            new("period", ColumnType.Text,
                "Month (2026-03), or first and last month (2025-04/2026-03), in ISO 8601.")
            {
                Required = true,
                Pattern = PeriodPattern,
            },
            cell);

    public static CsvTable<T> Stratum<T>(this CsvTable<T> table, Func<T, string> cell)
        where T : allows ref struct => table.Word("stratum", "Field by which records are split; all where they are not split.", cell);

    public static CsvTable<T> Level<T>(this CsvTable<T> table, Func<T, string> cell)
        where T : allows ref struct =>
        table.Word("level", "Value of that field; (missing) where it is missing; all where records are not split.", cell);

    public static CsvTable<T> Site<T>(this CsvTable<T> table, Func<T, string> cell)
        where T : allows ref struct => table.Word("site", "Code of the site; all for every site together.", cell);

    public static CsvTable<T> Event<T>(this CsvTable<T> table, Func<T, string> cell)
        where T : allows ref struct => table.Word("event",
            "What counts as an event: met, or not_met for a measure whose events are the records that do not meet it.",
            cell, "met", "not_met");

    /// <summary>Met, eligible and missing, in every row.</summary>
    public static CsvTable<T> Count<T>(this CsvTable<T> table, Func<T, Count> cell)
        where T : allows ref struct => table.Group(CountColumns(required: true), (writer, row) => Write(writer, cell(row)));

    /// <summary>Met, eligible and missing in the rows that have a count.</summary>
    public static CsvTable<T> KnownCount<T>(this CsvTable<T> table, Func<T, Count?> cell)
        where T : allows ref struct => table.Group(CountColumns(required: false), (writer, row) =>
            _ = cell(row) is { } count ? Write(writer, count) : writer.Empty().Empty().Empty());

    /// <summary>A proportion from 0 to 1 with its interval.</summary>
    public static CsvTable<T> Proportion<T>(this CsvTable<T> table, Func<T, IntervalCells> cell)
        where T : allows ref struct => table.Group(
            [
                Fraction("value", "Met over eligible, from 0 to 1; empty where no record is eligible."),
                Fraction("lower", "Lower end of its interval."),
                Fraction("upper", "Upper end of its interval."),
                LevelPct,
            ],
            (writer, row) => Write(writer, cell(row)));

    /// <summary>Any value with its interval.</summary>
    /// <param name="table">The table.</param>
    /// <param name="meaning">What the value is.</param>
    /// <param name="cell">What it takes from a row.</param>
    public static CsvTable<T> Interval<T>(this CsvTable<T> table, string meaning, Func<T, IntervalCells> cell)
        where T : allows ref struct => table.Group(
            [
                new("value", ColumnType.Number, meaning),
                new("lower", ColumnType.Number, "Lower end of the interval; empty where it has none."),
                new("upper", ColumnType.Number, "Upper end of the interval; empty where it has none."),
                LevelPct,
            ],
            (writer, row) => Write(writer, cell(row)));

    public static CsvTable<T> Method<T>(this CsvTable<T> table, Func<T, string?> cell)
        where T : allows ref struct => table.Text("method", "Name of the method that gave the row's value or interval.", cell);

    public static CsvTable<T> Doubts<T>(this CsvTable<T> table, Func<T, string?> cell)
        where T : allows ref struct =>
        table.Text("doubts", "Names of the reasons to doubt the figure, separated by blanks; empty where there is none.", cell);

    /// <summary>A column of fractions from 0 to 1.</summary>
    public static ColumnSchema Fraction(string name, string meaning) =>
        new(name, ColumnType.Number, meaning) { Unit = "1", Minimum = 0, Maximum = 1 };

    public static ColumnSchema Percent(string name, string meaning) =>
        new(name, ColumnType.Number, meaning) { Unit = "%", Minimum = 0, Maximum = 100 };

    /// <summary>A column of numbers that are never below zero.</summary>
    public static ColumnSchema Positive(string name, string meaning, string? unit = null) =>
        new(name, ColumnType.Number, meaning) { Unit = unit, Minimum = 0 };

    private static ColumnSchema LevelPct { get; } =
        Percent("level_pct", "Confidence level of the interval; empty where there is none.");

    private static ImmutableArray<ColumnSchema> CountColumns(bool required) =>
    [
        Whole("met", "Eligible records that meet the measure", required),
        Whole("eligible", "Eligible records whose answer is known: the denominator", required),
        Whole("missing", "Records whose answer is missing. They are outside the denominator", required),
    ];

    private static ColumnSchema Whole(string name, string meaning, bool required) =>
        new(name, ColumnType.Integer, meaning + (required ? "." : "; empty in a row without a count."))
        {
            Required = required,
            Minimum = 0
        };

    private static TableWriter Write(TableWriter table, Count count) =>
        table.Integer(count.Met).Integer(count.Eligible).Integer(count.Missing);

    private static TableWriter Write(TableWriter table, IntervalCells cells) =>
        table.Number(cells.Value).Number(cells.Lower).Number(cells.Upper).Number(cells.LevelPct);
}
