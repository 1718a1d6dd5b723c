using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>What is looked through rather than asked: the quality of the data, the fate of the rows, and records that do not fit.</summary>
public static class BrowsePages
{
    /// <summary>The most findings on a page; the table of the run has all.</summary>
    public const int Most = 500;

    private const double Low = 0.8;

    private static readonly TableColumn[] Columns =
        [TableColumn.Names("Rule"), TableColumn.Names("File"), TableColumn.Num("Line"), "Column", "What it means"];

    /// <summary>Completeness by field and month, then what the report says of the data.</summary>
    public static byte[] Quality(AnswerFrame frame, Figures figures, IReadOnlyList<MonthCompleteness> months)
    {
        ArgumentNullException.ThrowIfNull(frame);
        ArgumentNullException.ThrowIfNull(figures);
        return ExplorePage.Live(frame, "Data quality", html =>
        {
            html.Add($"<div>");
            ByMonth(html, figures, months);
            QualitySection.Write(html, figures);
            html.Add($"</div>");
        });
    }

    /// <summary>The fate of every row by file, and the rows that were set aside.</summary>
    public static byte[] Ledger(AnswerFrame frame, Figures figures, IReadOnlyList<Finding> findings)
    {
        ArgumentNullException.ThrowIfNull(frame);
        ArgumentNullException.ThrowIfNull(figures);
        return ExplorePage.Live(frame, "Ledger", html =>
        {
            html.Add($"""<section aria-labelledby="ledger"><h2 id="ledger">Ledger</h2>""");
            QualitySection.Ledger(html, figures);
            html.Add($"<h3>Rows that were quarantined, and why</h3>");
            List(html, "t-quarantined", "Quarantined rows", [.. findings.Where(finding => finding.Severity == Severity.Refuse)]);
            html.Add($"</section>");
        });
    }

    /// <summary>Records whose values do not fit one another.</summary>
    public static byte[] Unusual(AnswerFrame frame, IReadOnlyList<Finding> findings)
    {
        ArgumentNullException.ThrowIfNull(frame);
        return ExplorePage.Live(frame, "Unusual records", html =>
        {
            html.Add(
                $"""<section aria-labelledby="unusual"><h2 id="unusual">Unusual records</h2><p>Each value is possible; together they are """
                    + $"rare in these records. Look at them before the figures do. No value is printed.</p>");
            List(html, "t-unusual", "Records to look at",
                [.. findings.Where(finding => finding.Rule.StartsWith("unusual", StringComparison.Ordinal))]);
            html.Add($"</section>");
        });
    }

    private static void ByMonth(Html html, Figures figures, IReadOnlyList<MonthCompleteness> months)
    {
        Month[] shown = [.. figures.YearFrom.To(figures.Month)];
        var cells = months.ToLookup(row => (row.Field, row.Month));
        string[] fields = [.. months.Select(row => row.Field).Distinct()];
        TableColumn[] columns = ["Field", .. shown.Select(month => TableColumn.Num(Wording.Abbreviated(month)))];
        html.Add($"""<section aria-labelledby="by-month"><h2 id="by-month">Known, by field and month</h2>"""
            + $"<p>Records that know the field, out of those that are asked it. Underlined: below {Wording.Short(Low, 100)}.</p>");
        Table.Write(html, "t-by-month", "Last 12 months", columns, () =>
        {
            foreach (var field in fields)
            {
                html.Add($"""<tr><th scope="row">{figures.Titles.Column(field)}</th>""");
                foreach (var cell in shown.Select(month => cells[(field, month)].FirstOrDefault()))
                {
                    var asked = cell is { Records: > 0 };
                    html.Add($"""<td{new Markup(asked && cell!.Known < Low * cell.Records ? " class=\"low\"" : "")}>""");
                    html.Add($"{(asked ? $"{Wording.Number(cell!.Known)}/{Wording.Number(cell.Records)}" : "")}</td>");
                }

                html.Add($"</tr>");
            }
        }, "months");
        html.Add($"</section>");
    }

    private static void List(Html html, string id, string caption, ImmutableArray<Finding> findings)
    {
        if (findings.IsEmpty)
        {
            html.Add($"<p>None.</p>");
            return;
        }

        if (findings.Length > Most)
            html.Add($"<p>The first {Wording.Number(Most)} of {Wording.Number(findings.Length)}; "
                + $"<code>tables/findings.csv</code> has all.</p>");
        Table.Write(html, id, caption, Columns, () =>
        {
            foreach (var finding in findings.Take(Most))
                Table.Row(html, Columns, finding.Rule, finding.File, finding.Line == 0 ? "" : Wording.Number(finding.Line), finding.Column,
                    finding.Explanation);
        }, "wordy");
    }
}
