using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Outcomes.Studies.Monthly;

/// <summary>The study's rows as the tables of docs/statistics/monthly-test.md.</summary>
internal static class MonthlyTables
{
    private static readonly ImmutableArray<string> Three = [SignalTests.Filter, SignalTests.Odds, SignalTests.Joint];

    public static string Markdown(IReadOnlyList<MonthlyRow> rows)
    {
        var text = new StringBuilder();
        Families(text, rows);
        Single(text, rows);
        Changed(text, rows);
        Planned(text, rows);
        Plain(text, "One look or many: departments whose interval leaves out 0, %", [.. rows.Where(row => row.Part == "looks")]);
        Plain(text, "A year's proportion: intervals that hold the true rate, %", [.. rows.Where(row => row.Part == "year")]);
        Plain(text, "Ranges of the level now and of the month of a change that hold the truth, %",
            [.. rows.Where(row => row.Part is "level" or "start")]);
        MonthlyTries.Table(text, rows);
        Agreement(text, rows);
        return text.ToString();
    }

    private static void Families(StringBuilder text, IReadOnlyList<MonthlyRow> rows)
    {
        Head(text, "False alarms: stable departments with any signal on six measures in 36 reports, %: filter / change odds / joint",
            ["cases a month / months of history", .. (string[])["ρ 0", "ρ .01", "ρ .02", "ρ .05", "standard error (ρ .02)"]]);
        foreach (var cell in Of(rows, "stable").GroupBy(row => (row.Volume, row.History)))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {cell.Key.Volume} / {cell.Key.History} |");
            foreach (var correlation in (double[])[0, 0.01, 0.02, 0.05])
                text.Append(CultureInfo.InvariantCulture, $" {string.Join(" / ", Three.Select(test => Family(cell, correlation, test))
                    .OfType<(double Share, double Error)>().Select(family => One(100 * family.Share)))} |");
            text.Append(CultureInfo.InvariantCulture, $" {Rounded(100 * Family(cell, 0.02, SignalTests.Joint)!.Value.Error, 2)} |\n");
        }
        text.Append('\n');
    }

    /// <summary>The share with any signal on the six measures; null where the cell was not studied.</summary>
    public static (double Share, double Error)? Family(IEnumerable<MonthlyRow> rows, double correlation, string test)
    {
        MonthlyRow[] found = [.. rows.Where(row => row.Part == "stable" && row.Correlation == correlation && row.Test == test)];
        return found.Length == 0 ? null : StableAndChanged.Family(found);
    }

    private static void Single(StringBuilder text, IReadOnlyList<MonthlyRow> rows)
    {
        string[] rates = ["5 %", "8 %", "15 %", "20 %"];
        Head(text, "One stable measure where months vary with ρ .02: any signal in 36 reports, %: filter / change odds / joint",
            ["cases a month / months of history", .. rates]);
        foreach (var cell in Of(rows, "stable").Where(row => row.Correlation == 0.02).GroupBy(row => (row.Volume, row.History)))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {cell.Key.Volume} / {cell.Key.History} |");
            foreach (var rate in rates)
                text.Append(CultureInfo.InvariantCulture, $" {string.Join(" / ", Three.Select(test =>
                    One(100 * cell.Single(row => row.Test == test && row.Figure == rate).Share)))} |");
            text.Append('\n');
        }
        text.Append('\n');
    }

    private static void Changed(StringBuilder text, IReadOnlyList<MonthlyRow> rows)
    {
        MonthlyRow[] changed = [.. Of(rows, "changed")];
        (double Volume, string History)[] cells = [.. changed.Select(row => (row.Volume, row.History)).Distinct()];
        Head(text, "Noticed, and false signals, %: filter / change odds / joint",
            ["what happened", .. cells.Select(cell => string.Create(CultureInfo.InvariantCulture, $"{cell.Volume}/{cell.History}"))]);
        foreach (var truth in changed.GroupBy(row => row.Figure))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {truth.Key} |");
            foreach (var (volume, history) in cells)
                text.Append(CultureInfo.InvariantCulture, $" {string.Join(" / ", Three.Select(test => truth.SingleOrDefault(row =>
                    row.Volume == volume && row.History == history && row.Test == test) is { Of: > 0 } row
                        ? Rounded(100 * row.Share, row.Share < 0.1 ? 1 : 0) : "-"))} |");
            text.Append('\n');
        }
        text.Append('\n');
    }

    private static void Planned(StringBuilder text, IReadOnlyList<MonthlyRow> rows)
    {
        Head(text, "The planned comparison: intervals that hold the true difference, and that leave out 0, %: plain Newcombe / months vary",
            ["cases a month, months before and after", "rates", "holds: ρ 0", "ρ .02", "ρ .05", "leaves out 0: ρ 0", "ρ .02", "ρ .05"]);
        foreach (var line in Of(rows, "planned").GroupBy(row => (row.Volume, row.History, Rates: row.Figure.Split(": ")[0])))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {line.Key.Volume}, {line.Key.History} | {line.Key.Rates} |");
            foreach (var figure in (string[])["holds", "leaves out 0"])
                foreach (var correlation in PlannedStudy.Correlations)
                    text.Append(CultureInfo.InvariantCulture, $" {string.Join(" / ",
                        ((string[])[PlannedStudy.Plain, PlannedStudy.Varying]).Select(test => One(100 * line.Single(row =>
                            row.Correlation == correlation && row.Test == test && row.Figure.EndsWith(figure, StringComparison.Ordinal))
                                .Share)))} |");
            text.Append('\n');
        }
        text.Append('\n');
    }

    /// <summary>A table with a line for each volume and figure, a column for each test and correlation.</summary>
    private static void Plain(StringBuilder text, string title, MonthlyRow[] rows)
    {
        if (rows.Length == 0)
            return;
        (string Test, double Correlation)[] columns = [.. rows.Select(row => (row.Test, row.Correlation)).Distinct()
            .OrderBy(column => Array.FindIndex(rows, row => row.Test == column.Test)).ThenBy(column => column.Correlation)];
        Head(text, title, ["cases a month", "", .. columns.Select(column =>
            string.Create(CultureInfo.InvariantCulture, $"{column.Test}, ρ {column.Correlation}"))]);
        foreach (var line in rows.GroupBy(row => (row.Volume, row.Figure)))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {line.Key.Volume} | {line.Key.Figure} |");
            foreach (var (test, correlation) in columns)
                text.Append(CultureInfo.InvariantCulture, $" {(line.SingleOrDefault(row => row.Test == test
                    && row.Correlation == correlation) is { } row ? One(100 * row.Share) : "")} |");
            text.Append('\n');
        }
        text.Append('\n');
    }

    /// <summary>Each figure that the earlier study has as well, with the difference in standard errors of both.</summary>
    public static ImmutableArray<(string Name, double Here, double There, double Distance)> Compared(IReadOnlyList<MonthlyRow> rows)
    {
        var compared = ImmutableArray.CreateBuilder<(string, double, double, double)>();
        void Add(string part, MonthlyRow row, string figure, double share, double error)
        {
            if (MonthlyReference.All.TryGetValue((part, row.Volume, row.History, row.Correlation, row.Test, figure), out var there))
                compared.Add((string.Create(CultureInfo.InvariantCulture,
                    $"{row.Volume}/{row.History}, {row.Test}, {figure}, ρ {row.Correlation}"), 100 * share, there.Percent,
                    ((100 * share) - there.Percent) / Math.Sqrt((10_000 * error * error) + (there.Error * there.Error))));
        }
        foreach (var row in rows)
            Add(row.Part, row, row.Figure, row.Share, row.Error);
        foreach (var cell in Of(rows, "stable").GroupBy(row => (row.Volume, row.History, row.Correlation, row.Test)))
            if (StableAndChanged.Family([.. cell]) is var (share, error))
                Add("family", cell.First(), "six measures", share, error);
        return compared.ToImmutable();
    }

    private static void Agreement(StringBuilder text, IReadOnlyList<MonthlyRow> rows)
    {
        var compared = Compared(rows);
        if (compared.IsEmpty)
            return;
        text.Append(CultureInfo.InvariantCulture,
            $"### Agreement with the earlier, independent study\n\nOf {compared.Length} figures that both have, "
                + $"{compared.Count(each => Math.Abs(each.Distance) > 2)} differ by more than 2 standard errors (chance alone: "
                + $"{Rounded(0.0455 * compared.Length, 0)}) and {compared.Count(each => Math.Abs(each.Distance) > 3)} by more than 3 "
                + $"(chance alone: {Rounded(0.0027 * compared.Length, 0)}); the mean difference is "
                + $"{Rounded(compared.Average(each => each.Here - each.There), 2)} points.\n\n");
        foreach (var (name, here, there, distance) in compared.Where(each => Math.Abs(each.Distance) > 2.5)
            .OrderByDescending(each => Math.Abs(each.Distance)))
            text.Append(CultureInfo.InvariantCulture,
                $"- {name}: {Rounded(here, 1)} here, {Rounded(there, 1)} there ({Rounded(distance, 1)} standard errors)\n");
    }

    private static IEnumerable<MonthlyRow> Of(IReadOnlyList<MonthlyRow> rows, string part) => rows.Where(row => row.Part == part);

    internal static void Head(StringBuilder text, string title, IReadOnlyList<string> columns) =>
        text.Append(CultureInfo.InvariantCulture, $"### {title}\n\n| {string.Join(" | ", columns)} |\n| --- |"
            + $"{string.Concat(columns.Skip(1).Select(column => column is "" or "rates" ? " --- |" : " ---: |"))}\n");

    private static string One(double value) => Rounded(value, 1);

    internal static string Rounded(double value, int decimals) =>
        value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
