using System.Globalization;
using System.Text;

namespace Outcomes.Studies.Signals;

/// <summary>The study's rows as the tables of docs/statistics/signals.md.</summary>
internal static class StudyTables
{
    private const string Start = "<!-- study: made by tests/Outcomes.Studies, not by hand -->\n", End = "<!-- /study -->\n";

    /// <summary>The part of the page between the marks.</summary>
    public static string OfPage(string page)
    {
        var from = page.IndexOf(Start, StringComparison.Ordinal) + Start.Length;
        return page[from..page.IndexOf(End, from, StringComparison.Ordinal)];
    }

    /// <summary>The page with that part made anew.</summary>
    public static string IntoPage(string page, string made) =>
        page.Replace(Start + OfPage(page) + End, Start + made + End, StringComparison.Ordinal);

    public static string Markdown(IReadOnlyList<StudyRow> rows)
    {
        var text = new StringBuilder();
        string[] paces = [.. Scheme.Shipped.Paces.Select(pace => pace.Name)], first = [.. Scheme.First.Paces.Select(pace => pace.Name)];
        string[] conditions = [.. Condition.All.Select(condition => condition.Name)],
            changes = [.. Detection.Changes.Select(change => change.Name)];
        Table(text, "False alarms: stable departments with any signal on six measures in 36 reports, %", rows,
            "false alarms", paces, conditions);
        Table(text, "Noticed within 12 months, %", rows, "noticed", paces, changes);
        Table(text, "Months until half have noticed", rows, "median months", paces, changes);
        Table(text, "Months until 80 % have noticed", rows, "80 % months", paces, changes);
        Table(text, "By department: chance of a false alarm, %", rows, "by department", paces,
            ["mean", "median", "90th centile", "at most 10 %"]);
        Table(text, "The usual rules, looked at every month: stable departments with any alarm in 36 reports, %", rows, "usual rules", null,
            ["one measure", "six measures"]);
        Table(text, "What a signal says", rows, "signals", null,
            ["way is right", "start in the range", "likeliest start within 2 months", "months in the range",
                "mean rate shown", "mean rate after"]);
        Table(text, "Other constants at the same budget: noticed within 12 months, %", rows, "alternatives", null, null);
        Table(text, "Tried against the shipped scheme at the same budget: one measure, false alarms in 36 reports and noticed within "
            + "12 months, %", rows, "tries", null, null);
        Table(text, "The constants among them where months vary otherwise: one measure, false alarms in 36 reports, %",
            rows, "beyond", null, null);
        Table(text, "Case mix inside, at the same budget: one measure, false alarms in 36 reports and noticed within 12 months, %",
            rows, "mix", null, null);
        Table(text, "Limits for small units: six measures, false alarms in 36 reports, departments whose own chance is at most 10 %, "
            + "and noticed within 12 months, %", rows, "small", null, null);
        Table(text, "Where the search started: false alarms, %", rows, "false alarms", first, conditions);
        Table(text, "Where the search started: noticed within 12 months, %", rows, "noticed", first, changes);
        Agreement(text, rows);
        return text.ToString();
    }

    private static void Table(
        StringBuilder text, string title, IReadOnlyList<StudyRow> all, string part, string[]? schemes, string[]? figures)
    {
        StudyRow[] rows = [.. all.Where(row => row.Part == part && (schemes is null || schemes.Contains(row.Scheme)))];
        if (rows.Length == 0)
            return;
        figures ??= [.. rows.Select(row => row.Figure).Distinct()];
        text.Append(CultureInfo.InvariantCulture, $"### {title}\n\n| cases a month / months of history | | {string.Join(" | ", figures)} "
            + $"|\n| --- | --- |{string.Concat(figures.Select(_ => " ---: |"))}\n");
        foreach (var line in rows.GroupBy(row => (row.Volume, row.History, row.Scheme)))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {line.Key.Volume} / {line.Key.History} | {line.Key.Scheme} |");
            foreach (var figure in figures)
                text.Append(CultureInfo.InvariantCulture, $" {line.Where(row => row.Figure == figure).Select(Cell).FirstOrDefault("")} |");
            text.Append('\n');
        }
        text.Append('\n');
    }

    private static string Cell(StudyRow row) => row switch
    {
        { Value: null } => "-",
        { Part: "median months" or "80 % months" } or { Figure: "months in the range" } => Rounded(row.Value.Value, 0),
        _ => Rounded(100 * row.Value.Value,
            row.Part is "false alarms" or "by department" || row.Figure.StartsWith("false alarms", StringComparison.Ordinal) ? 1 : 0),
    };

    /// <summary>How the first constants compare with the independent study of the same cells.</summary>
    private static void Agreement(StringBuilder text, IReadOnlyList<StudyRow> rows)
    {
        StudyRow[] compared = [.. rows.Where(row => row.Distance is not null).OrderByDescending(row => Math.Abs(row.Distance!.Value))];
        if (compared.Length == 0)
            return;
        text.Append(CultureInfo.InvariantCulture,
            $"Of {compared.Length} cells, {compared.Count(Beyond(2))} differ by more than 2 standard errors (chance "
                + $"alone: {Rounded(0.0455 * compared.Length, 0)}) and {compared.Count(Beyond(3))} by more than 3; "
                + $"the mean difference is {Rounded(100 * compared.Average(row => row.Value!.Value - row.Reference!.Value), 2)} points.\n");
        foreach (var row in compared.Where(Beyond(2)))
            text.Append(CultureInfo.InvariantCulture,
                $"- {row.Volume} / {row.History}, {row.Scheme}, {row.Figure}: {Rounded(100 * row.Value!.Value, 1)} "
                    + $"here, {Rounded(100 * row.Reference!.Value, 0)} there ({Rounded(row.Distance!.Value, 1)} standard errors)\n");
    }

    private static Func<StudyRow, bool> Beyond(double errors) => row => Math.Abs(row.Distance!.Value) > errors;

    private static string Rounded(double value, int decimals) =>
        value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
