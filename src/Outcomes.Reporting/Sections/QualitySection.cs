using Outcomes.Analysis;
using Outcomes.Records;

namespace Outcomes.Reporting.Page;

/// <summary>What became of every row, what was found wrong, and what is missing.</summary>
internal static class QualitySection
{
    public static void Write(Html html, Figures model)
    {
        html.Add($"""<section aria-labelledby="quality"><h2 id="quality">Data quality</h2>""");
        AskSection.Write(html, model);
        Ledger(html, model);
        TracesParagraph.Write(html, model);
        Findings(html, model);
        Completeness(html, model);
        if (!model.RulesNotRun.IsEmpty)
        {
            TableColumn[] columns = [TableColumn.Names("Rule"), "Why it could not run"];
            Table.Write(html, "t-skipped", "Consistency rules that could not run", columns, () =>
            {
                foreach (var rule in model.RulesNotRun)
                    Table.Row(html, columns, rule.Id, DataWording.WhyNot(rule, model.Titles));
            });
        }

        if (AnsweredSection.NotAnswered(model) is { } sections)
            html.Add($"<p>{sections}</p>");
        html.Add($"</section>\n");
    }

    public static void Ledger(Html html, Figures model)
    {
        if (model.Reconciliations.IsEmpty)
            return;
        TableColumn[] columns =
        [
            "File", TableColumn.Num("Rows in"), TableColumn.Num("Accepted"), TableColumn.Num("Superseded"), TableColumn.Num("Withdrawn"),
            TableColumn.Num("Quarantined"),
        ];
        Table.Write(html, "t-ledger", "What became of every row", columns, () =>
        {
            foreach (var file in model.Reconciliations.Append(Reconciliation.Total(model.Reconciliations)))
                Table.Row(html, columns, file.File, Wording.Number(file.RowsIn), Wording.Number(file.Accepted),
                    Wording.Number(file.Superseded), Wording.Number(file.Withdrawn), Wording.Number(file.Quarantined));
        }, "total");
    }

    private static void Findings(Html html, Figures model)
    {
        html.Add($"<h3>Findings</h3>");
        if (model.Findings.IsEmpty)
        {
            html.Add($"<p>Nothing was found wrong.</p>");
            return;
        }

        html.Add($"<p>The worst first. Each finding with its file and line is in <code>tables/findings.csv</code>; "
            + $"no cell’s value is printed.</p>");
        TableColumn[] columns =
        [
            TableColumn.Names("Rule"), "What it does", TableColumn.Num("Findings"), TableColumn.Names("Where"), "What it means"
        ];
        Table.Write(html, "t-findings", "Findings by rule", columns, () =>
        {
            foreach (var group in model.Findings)
                Table.Row(html, columns, group.Rule, Effect(group.Severity), Wording.Number(group.Findings),
                    string.Join(", ", group.Columns), group.Explanation);
        }, "wordy");
    }

    private static void Completeness(Html html, Figures model)
    {
        if (model.Completeness.IsEmpty)
            return;
        TableColumn[] columns =
        [
            "Field", TableColumn.Num("Known / asked"), TableColumn.Num("Known"), TableColumn.Names("Name in the data")
        ];
        Table.Write(html, "t-complete", "Completeness of the fields that figures rest on", columns, () =>
        {
            foreach (var field in model.Completeness.OrderBy(field => field.Collected
                ? field.Of == 0 ? 2 : field.Known / (double)field.Of
                : -1)
                .ThenBy(field => field.Field, StringComparer.Ordinal))
            {
                var asked = field.Collected && field.Of > 0;
                Table.Row(html, columns, field.Title, asked ? $"{Wording.Number(field.Known)}/{Wording.Number(field.Of)}"
                    : field.Collected ? "not asked"
                    : "not collected", asked ? Wording.Rate(field.Known / (double)field.Of, 100) : "", field.Field);
            }
        });
        html.Add($"<p>No interval here: the cells of one record are not independent.</p>");
    }

    private static string Effect(Severity severity) => severity switch
    {
        Severity.Refuse => "row quarantined",
        Severity.Blank => "value made missing",
        _ => "value kept, look at it",
    };
}
