using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Outcomes.Studies.CaseMix;

/// <summary>The study's rows as the tables of docs/statistics/case-mix.md.</summary>
internal static class CaseMixTables
{
    private static readonly ImmutableArray<string> Rules =
    [
        MissingField.Level, MissingField.Without, MissingField.Rule, MissingField.Counts
    ];

    /// <summary>
    /// What an independent study found with other seeds, 1,500 departments a row, and the true chances in place of fitted ones: by rule, in
    /// the order above.
    /// </summary>
    private static readonly ImmutableArray<(string Cell, string Figure, double[] Found)> Independent =
    [
        ("8 to 30 % at random; same care", "false better by 36", [2.3, 0.2, 0.3, 0.3]),
        ("8 to 60 % at random; same care", "false better by 36", [29, 0.7, 0.5, 0.5]),
        ("8 to 8 % at random; doubled odds", "worse within 12", [46, 46, 46, 45]),
        ("8 to 30 % at random; doubled odds", "worse within 12", [14, 42, 46, 46]),
        ("8 to 60 % at random; doubled odds", "worse within 12", [1, 35, 44, 44]),
        ("8 to 30 % low first; same care", "worse by 36", [0.4, 5.2, 1.0, 0.8]),
        ("8 to 60 % low first; same care", "false better by 36", [14, 0.1, 0.5, 0.5]),
        ("8 to 60 % low first; same care", "worse by 36", [0, 2.3, 1.2, 1.2]),
    ];

    public static string Markdown(IReadOnlyList<CaseMixRow> rows)
    {
        var text = new StringBuilder();
        Missing(text, [.. rows.Where(row => row.Part == MissingField.Part)]);
        Moved(text, [.. rows.Where(row => row.Part == MissingField.Part && row.Test == "-")]);
        Deciding(text, [.. rows.Where(row => row.Part == DecidingModel.Part)]);
        Coverage(text, [.. rows.Where(row => row.Part == RatioCoverage.Part)]);
        return text.ToString();
    }

    /// <summary>Each cell of the first table with what the independent study found there.</summary>
    public static IEnumerable<(CaseMixRow Here, double There)> Compared(IReadOnlyList<CaseMixRow> rows) =>
        from line in Independent
        from rule in Rules.Index()
        select (rows.Single(row => row.Cell == line.Cell && row.Figure == line.Figure && row.Rule == rule.Item
            && row.Test == CaseMixStudy.Tests[0].Name), line.Found[rule.Index] / 100);

    private static void Missing(StringBuilder text, CaseMixRow[] rows)
    {
        Head(text, "A field that comes to be missing, %: filter at 2.2 / as shipped / independent study",
            ["14 a month, 12 months of history", "", .. Rules]);
        foreach (var (cell, figure, found) in Independent)
        {
            text.Append(CultureInfo.InvariantCulture, $"| {cell} | {figure} |");
            foreach (var (at, rule) in Rules.Index())
            {
                foreach (var (name, _) in CaseMixStudy.Tests)
                    text.Append(CultureInfo.InvariantCulture, $" {Percent(rows.Single(row => row.Cell == cell && row.Figure == figure
                        && row.Rule == rule && row.Test == name).Share)} /");
                text.Append(CultureInfo.InvariantCulture, $" {Percent(found[at] / 100)} |");
            }

            text.Append('\n');
        }

        text.Append('\n');
    }

    private static void Moved(StringBuilder text, CaseMixRow[] rows)
    {
        Head(text, "When the field is said to have moved, % of departments",
            ["", "falsely, in the first year", "within 12 months of the move"]);
        foreach (var cell in rows.GroupBy(row => row.Cell))
        {
            var (falsely, truly) = (Of(cell, "moved falsely in the first year"), Of(cell, "moved within 12 months"));
            text.Append(CultureInfo.InvariantCulture, $"| {cell.Key} | {falsely} | {truly} |\n");
        }

        text.Append('\n');

        static string Of(IEnumerable<CaseMixRow> cell, string figure) => Percent(cell.Single(row => row.Figure == figure).Share);
    }

    private static void Deciding(StringBuilder text, CaseMixRow[] rows)
    {
        string[] tests = [.. CaseMixStudy.Tests.Select(test => test.Name)];
        Head(text, "Any false signal in 36 reports, %: by the model / by the counts",
            ["12 months of history", .. tests, "has a model", "area under 0.60"]);
        foreach (var cell in rows.GroupBy(row => row.Cell))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {cell.Key} |");
            foreach (var test in tests)
                text.Append(CultureInfo.InvariantCulture,
                    $" {Share(cell, test, DecidingModel.Model)} / {Share(cell, test, DecidingModel.Counts)} |");
            text.Append(CultureInfo.InvariantCulture, $" {Percent(cell.Single(row => row.Figure == "fitted").Share)} |")
                .Append(CultureInfo.InvariantCulture, $" {Percent(cell.Single(row => row.Figure == "area under 0.60").Share)} |\n");
        }

        text.Append('\n');

        static string Share(IEnumerable<CaseMixRow> cell, string test, string rule) =>
            Percent(cell.Single(row => row.Test == test && row.Rule == rule).Share);
    }

    private static void Coverage(StringBuilder text, CaseMixRow[] rows)
    {
        Head(text, "Intervals of observed over expected that hold the true ratio, % (95 is nominal)",
            ["12 months of history", "a year: with the model's error", "a year: expected taken as known",
                "one month: with the model's error"]);
        foreach (var cell in rows.GroupBy(row => row.Cell))
            text.Append(CultureInfo.InvariantCulture, $"| {cell.Key} | {Of(cell, RatioCoverage.WithError, "a year")} | ")
                .Append(CultureInfo.InvariantCulture, $"{Of(cell, RatioCoverage.Plain, "a year")} | ")
                .Append(CultureInfo.InvariantCulture, $"{Of(cell, RatioCoverage.WithError, RatioCoverage.Month)} |\n");
        text.Append('\n');

        static string Of(IEnumerable<CaseMixRow> cell, string rule, string figure) =>
            Percent(cell.Single(row => row.Rule == rule && row.Figure == figure).Share);
    }

    private static void Head(StringBuilder text, string title, string[] columns) => text.Append(CultureInfo.InvariantCulture,
        $"### {title}\n\n| {string.Join(" | ", columns)} |\n|{string.Concat(columns.Select((_, at) => at == 0 ? " --- |" : " ---: |"))}\n");

    private static string Percent(double share) =>
        double.IsNaN(share) ? "-" : (100 * share).ToString(100 * share < 10 ? "0.0" : "0", CultureInfo.InvariantCulture);
}
