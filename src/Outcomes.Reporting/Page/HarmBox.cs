using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>Harm as counts among all procedures: this month, 12 months, and the 12 before. Never a verdict.</summary>
internal static class HarmBox
{
    public static void Write(Html html, Figures model)
    {
        if (model.Harm.IsEmpty)
            return;
        var before = model.Harm.Any(harm => harm.Before is not null);
        var first = model.Harm[0];
        TableColumn[] columns =
        [
            "Procedures with", TableColumn.Num($"This month, of {Wording.Number(first.Month.Procedures)}"),
            TableColumn.Num($"12 months, of {Wording.Number(first.Year.Procedures)}"),
            .. before ? new[] { TableColumn.Num($"12 months before, of {Wording.Number(first.Before!.Procedures)}") } : [],
            TableColumn.Num("Not recorded"),
        ];
        Table.Write(html, "t-harm", "Harm, in every procedure recorded", columns, () =>
        {
            foreach (var harm in model.Harm)
                Table.Row(html, columns,
                [
                    harm.Event, Wording.Number(harm.Month.Events), Wording.Number(harm.Year.Events),
                    .. before ? new[] { harm.Before is { } span ? Wording.Number(span.Events) : "" } : [],
                    Wording.Number(harm.Year.Unknown),
                ]);
        }, "harm");
        html.Add($"""<p class="sub">{HarmWording.Key(model)}</p>""");
    }
}
