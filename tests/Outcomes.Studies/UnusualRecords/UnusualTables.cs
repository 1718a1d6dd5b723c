using System.Globalization;
using System.Text;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>The study's rows as the tables of docs/statistics/unusual-records.md.</summary>
internal static class UnusualTables
{
    public static string Markdown(IReadOnlyList<UnusualRow> rows)
    {
        var text = new StringBuilder();
        foreach (var (export, title) in new[]
        {
            ("fuller", "A department that collects more"), ("as invented", "The department of the demonstration")
        })
        {
            UnusualRow[] some = [.. rows.Where(row => row.Part == "search" && row.Export == export)];
            if (some.Length == 0)
                continue;
            Sizes(text, title, some);
            foreach (var size in some.GroupBy(row => row.Records).Where(size => size.Key is 500 or 2_000))
                Kinds(text, $"{title}: by kind of slip, {size.Key.ToString("N0", CultureInfo.InvariantCulture)} records", [.. size]);
        }

        Rivals(text, [.. rows.Where(row => row.Part != "search")]);
        return text.ToString();
    }

    private static void Sizes(StringBuilder text, string title, UnusualRow[] rows)
    {
        text.Append(CultureInfo.InvariantCulture, $"### {title}: all slips together\n\n")
            .Append("| records a department | slips | rules alone, % | search alone, % | rules or search, % | found slips whose column is "
                + "named, % | false alarms per 1,000 clean records |\n| ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n");
        foreach (var size in rows.GroupBy(row => row.Records))
        {
            UnusualRow Of(string figure, string kind = UnusualRecordStudy.AllKinds) =>
                size.Single(row => row.Figure == figure && row.Kind == kind);
            text.Append(CultureInfo.InvariantCulture,
                $"| {size.Key:N0} | {Of("rules").Of} | {Percent(Of("rules"))} | {Percent(Of("search"))} | {Percent(Of("rules or search"))} "
                    + $"| {Percent(Of("named"))} | {Mille(Of("false alarms", "none"))} |\n");
        }

        text.Append('\n');
    }

    private static void Kinds(StringBuilder text, string title, UnusualRow[] rows)
    {
        text.Append(CultureInfo.InvariantCulture, $"### {title}\n\n| slip | slips | rules alone, % | search alone, % | rules or search, "
            + $"% | gain, points |\n| --- | ---: | ---: | ---: | ---: | ---: |\n");
        foreach (var kind in rows.Where(row => row.Kind is not ("none" or UnusualRecordStudy.AllKinds)).GroupBy(row => row.Kind))
        {
            UnusualRow Of(string figure) => kind.Single(row => row.Figure == figure);
            text.Append(CultureInfo.InvariantCulture,
                $"| {kind.Key} | {Of("rules").Of} | {Percent(Of("rules"))} | {Percent(Of("search"))} | {Percent(Of("rules or search"))} "
                    + $"| {100 * (Of("rules or search").Share - Of("rules").Share):F0} |\n");
        }

        text.Append('\n');
    }

    private static void Rivals(StringBuilder text, UnusualRow[] rows)
    {
        if (rows.Length == 0)
            return;
        text.Append("### Other ways on the same departments of 500 records\n\n"
            + "| way | slips | alone, % | rules or it, % | false alarms per 1,000 clean records |\n| --- | ---: | ---: | ---: | ---: |\n");
        foreach (var way in rows.GroupBy(row => row.Part))
        {
            UnusualRow Of(string figure) => way.Single(row => row.Figure == figure);
            text.Append(CultureInfo.InvariantCulture, $"| {way.Key} | {Of("search").Of} | {Percent(Of("search"))} "
                + $"| {Percent(Of("rules or search"))} | {Mille(Of("false alarms"))} |\n");
        }

        text.Append('\n');
    }

    private static string Percent(UnusualRow row) =>
        row.Of == 0 ? "-" : string.Create(CultureInfo.InvariantCulture, $"{100 * row.Share:F0} ± {100 * row.Error:F0}");

    private static string Mille(UnusualRow row) =>
        string.Create(CultureInfo.InvariantCulture, $"{1_000 * row.Share:F1} ± {1_000 * row.Error:F1}");
}
