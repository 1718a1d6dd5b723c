using Outcomes.Analysis;
using Outcomes.Records;

namespace Outcomes.Reporting.Page;

/// <summary>What the period was: how many procedures, what became of every row, and what the records miss.</summary>
internal static class PeriodSection
{
    public static void Write(Html html, Figures model)
    {
        html.Add($"""<section aria-labelledby="period"><h2 id="period">What this period was</h2><dl class="facts">""");
        Fact(html, Wording.Name(model.Month), model.ProceduresIn(model.Month, model.Month));
        Fact(html, Wording.Span(model.YearFrom, model.Month), model.ProceduresIn(model.YearFrom, model.Month));
        Fact(html, Wording.Span(model.First, model.Last), model.ProceduresIn(model.First, model.Last));
        html.Add($"</dl>");
        if (!model.Reconciliations.IsEmpty)
        {
            var total = Reconciliation.Total(model.Reconciliations);
            html.Add($"""<p class="sum">{DataWording.Reconciled(total)}</p>""");
            if (total.RowsIn != model.ProceduresIn(model.First, model.Last))
                html.Add($"<p>One row is one line of a source file: a procedure, an attempt or a sample of a monitor; "
                    + $"""<a href="#quality">data quality</a> counts them file by file.</p>""");
        }

        CaptureParagraph.Write(html, model);
        Missing(html, model);
        ByMonth(html, model);
        html.Add($"</section>\n");
    }

    private static void Fact(Html html, string period, long procedures) =>
        html.Add($"<div><dt>{period}</dt><dd><strong>{Wording.Number(procedures)}</strong> "
            + $"{(procedures == 1 ? "procedure" : "procedures")}</dd></div>");

    private static void Missing(Html html, Figures model)
    {
        var asked = model.Completeness.Where(field => field.Collected && field.Of > 0).ToList();
        var worst = asked.Where(field => field.Known < field.Of).OrderByDescending(field => (field.Of - field.Known) / (double)field.Of)
            .ThenBy(field => field.Field, StringComparer.Ordinal).Take(3).ToList();
        if (worst.Count > 0)
        {
            var parts =
                worst.Select(field => $"{Inner(field.Title)} in {Wording.Number(field.Of - field.Known)}/{Wording.Number(field.Of)}");
            html.Add($"""<p>Missing most often: {string.Join(", ", parts)} records (<a href="#quality">data quality</a>). """
                + $"A missing cell is never read as “no”.</p>");
        }

        var absent = model.Completeness.Where(field => !field.Collected).Select(field => Inner(field.Title)).ToList();
        if (absent.Count > 0)
            html.Add($"<p>Not collected by any source: {string.Join(", ", absent)}.</p>");
    }

    /// <summary>A row a calendar year: the whole series at a glance.</summary>
    private static void ByMonth(Html html, Figures model)
    {
        TableColumn[] columns =
        [
            "Year", .. Enumerable.Range(1, 12).Select(month => TableColumn.Num(Wording.Abbreviated(new Month(2000, month))[..3])),
            TableColumn.Num("Year")
        ];
        Table.Write(html, "t-months", "Procedures in each month", columns, () =>
        {
            for (var year = model.First.Year; year <= model.Last.Year; year++)
            {
                var cells = Enumerable.Range(1, 12).Select(number => new Month(year, number))
                    .Select(month => month < model.First || month > model.Last ? "" : Wording.Number(model.ProceduresIn(month, month)));
                var sum = model.ProceduresIn(new Month(year, 1), new Month(year, 12));
                Table.Row(html, columns, [$"{year}", .. cells, Wording.Number(sum)]);
            }
        }, "grid");
    }

    /// <summary>A title inside a sentence: its first letter small, unless it is an abbreviation.</summary>
    private static string Inner(string title) =>
        title.Split(' ')[0].Skip(1).All(c => char.IsLower(c) || c == '-') ? char.ToLowerInvariant(title[0]) + title[1..] : title;
}
