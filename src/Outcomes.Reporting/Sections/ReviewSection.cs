using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>New cases by tier, and where the pack lies: never what happened in one.</summary>
internal static class ReviewSection
{
    public const string Id = "review";

    private static readonly TableColumn[] Columns = ["New cases of the month", TableColumn.Num("Cases"), "What the meeting does"];

    public static void Write(Html html, Figures model)
    {
        if (model.Review.IsEmpty)
            return;
        html.Add($"""<section aria-labelledby="{Id}"><h2 id="{Id}">For review</h2>""");
        html.Add($"<p>Each record stands once, at the highest tier of its flags. The cases are in <code>cases.html</code> beside this "
            + $"report, which is confidential and stays in the department; <code>case-key.csv</code> leads from a case to its record.</p>");
        if (model.Review.Sum(count => count.Late) is > 0 and var late)
            html.Add($"<p>{Wording.Some(late, "case")} among them: {(late == 1 ? "a record" : "records")} of earlier months, "
                + $"entered or changed after those months were reported.</p>");
        Cases(html, model);
        html.Add($"</section>\n");
    }

    /// <summary>The cases by tier, for a side of the report.</summary>
    public static void WriteShort(Html html, Figures model)
    {
        if (model.Review.IsEmpty)
            return;
        html.Add($"<h3>Cases for the review meeting</h3>");
        Cases(html, model);
    }

    private static void Cases(Html html, Figures model)
    {
        Table.Write(html, "t-review", $"New cases for review, {Wording.Name(model.Month)}", Columns, () =>
        {
            foreach (var count in model.Review)
                Table.Row(html, Columns, CaseWording.Name(count.Kind), Wording.Number(count.Cases), CaseWording.Handling(count.Kind));
        });
    }
}
