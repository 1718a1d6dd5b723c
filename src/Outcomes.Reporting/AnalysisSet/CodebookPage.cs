using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Page;
using Outcomes.Reporting.Tables;

namespace Outcomes.Reporting.AnalysisSet;

/// <summary>What a codebook is about.</summary>
/// <param name="Pipeline">The pipeline's name.</param>
/// <param name="AsOf">The date on which the records were looked at.</param>
/// <param name="Month">The report month.</param>
/// <param name="YearFrom">The first of the 12 months up to it.</param>
/// <param name="Version">The tool's version.</param>
/// <param name="DefinitionsHash">SHA-256 of the definitions.</param>
public sealed record AnalysisHead(string Pipeline, DateOnly AsOf, Month Month, Month YearFrom, string Version, string DefinitionsHash)
{
    /// <summary>True where nobody is behind the records.</summary>
    public bool Invented { get; init; }
}

/// <summary><c>codebook.html</c>: the tables of the analysis set for people.</summary>
public static class CodebookPage
{
    public const string File = "codebook.html";

    private static readonly TableColumn[] Columns = [TableColumn.Names("Column"), "Title", "Type", "Unit", "Values", "Meaning"];

    private static readonly TableColumn[] Definitions =
        [TableColumn.Names("Measure"), "Title", "Eligible", "Met, or value", "Missing", "Better"];

    /// <summary>The page.</summary>
    public static byte[] Utf8(AnalysisHead head, ImmutableArray<TableSchema> tables, ImmutableArray<DefinedMeasure> measures)
    {
        ArgumentNullException.ThrowIfNull(head);
        var shell = PageShell.OfReport($"Codebook · {head.Pipeline}", "Record level: department only");
        return Encoding.UTF8.GetBytes((shell with { Style = shell.Style + ".codebook tbody th{min-width:12rem}\n" })
            .Write(html => Body(html, head, tables, measures)));
    }

    private static void Body(Html html, AnalysisHead head, ImmutableArray<TableSchema> tables, ImmutableArray<DefinedMeasure> measures)
    {
        html.Add($"""<header class="masthead"><p class="stamp">record level: department only, do not pass on</p>{"\n"}""");
        if (head.Invented)
            html.Add($"""<p class="stamp">invented data: no patient, hospital or event in this set exists</p>""");
        html.Add($"""<h1>Codebook of the analysis set</h1><p class="lead">{head.Pipeline} · """
            + $"""as known on {Wording.Date(head.AsOf)}</p></header>""");
        html.Add($"""<nav aria-label="Contents"><ul>""");
        foreach (var table in tables)
            html.Add($"""<li><a href="#{table.Name}">{table.Name}</a></li>""");
        html.Add($"""<li><a href="#definitions">measures in full</a></li></ul></nav><main id="main">""");
        Cautions(html, head);
        foreach (var table in tables)
            Write(html, table);
        Write(html, measures);
        html.Add($"</main><footer><p>Outcomes {head.Version}. Definitions SHA-256 <code>{head.DefinitionsHash}</code>.</p></footer>");
    }

    private static void Cautions(Html html, AnalysisHead head) => html.Add($"""
        <section class="caution" aria-labelledby="h-read"><h2 id="h-read">Read this first</h2>
        <p>For audit, teaching and improvement. <strong>Not a medical device, not for bedside decisions, not for judging an individual.</strong>
        Records are de-identified and still personal data: dates and ages can point at a person. Local information governance decides who may
        hold this folder.</p>
        <p>Missing is never “no”: an empty cell has its reason in the column of the same name with <code>_missing</code>. The reasons are
        {string.Join(", ", AnalysisReason.All)}. An unrecordable reading was too low to measure: below every threshold, and no number. Columns
        and tables that hold nothing are left out. A difference found by looking is a hypothesis: say how many were looked at.</p>
        <p><code>read.R</code> and <code>read.py</code> load the tables with their labels and print the headline table of the report of
        {Wording.Name(head.Month)} (12 months from {Wording.Name(head.YearFrom)}).</p></section>

        """);

    private static void Write(Html html, TableSchema table)
    {
        html.Add($"""<section aria-labelledby="{table.Name}"><h2 id="{table.Name}">{table.Name}</h2><p>{table.Description}</p>""");
        html.Add(
            $"""<p class="sub">Key: {string.Join(", ", table.Key)}.{(table.Refers is { } to ? $" Belongs to {to.Table}." : "")}</p>""");
        Table.Write(html, $"t-{table.Name}", table.Title, Columns, () =>
        {
            foreach (var column in table.Columns)
                Table.Row(html, Columns, column.Name, column.Title ?? "", CodebookTable.TypeName(column.Type), column.Unit ?? "",
                    Values(column), column.Description);
        }, "wordy codebook");
        html.Add($"</section>\n");
    }

    private static string Values(ColumnSchema column) =>
        column.Allowed == AnalysisReason.All ? "a reason"
        : !column.Labels.IsEmpty ? string.Join("; ", column.Allowed.Zip(column.Labels, (value, label) => $"{value}: {label}"))
        : !column.Allowed.IsEmpty && column.Allowed.Length <= 12 ? string.Join("; ", column.Allowed)
        : column.Type == ColumnType.Date || (column.Minimum ?? column.Maximum) is null ? ""
        : $"{Number(column.Minimum)} to {Number(column.Maximum)}".Trim();

    private static string Number(decimal? end) => end is { } known ? known.ToString("0.###", CultureInfo.InvariantCulture) : "";

    private static void Write(Html html, ImmutableArray<DefinedMeasure> measures)
    {
        html.Add($"""<section aria-labelledby="definitions"><h2 id="definitions">Measures in full</h2>""");
        html.Add($"<p>Conditions as they ran, over the columns of a record and what its attempts add up to.</p>");
        Table.Write(html, "t-definitions", "Measures, those of the headline first", Definitions, () =>
        {
            foreach (var (measure, _, isAnswered) in measures)
                Table.Row(html, Definitions, measure.Id, measure.Title + (isAnswered ? "" : " (not collected)"), measure.Eligible,
                    measure.Met.Length > 0 ? measure.Met : measure.Value,
                    measure.Missing == Outcomes.Measures.Catalogue.MissingRule.NotDone ? "counts as not met" : "left out",
                    SummarySection.Direction(measure.Direction));
        }, "wordy codebook");
        html.Add($"</section>\n");
    }
}
