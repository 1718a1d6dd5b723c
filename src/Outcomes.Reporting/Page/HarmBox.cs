using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>Harm as counts among all procedures: this month, 12 months, and the 12 before. Never a verdict.</summary>
internal static class HarmBox
{
    public static void Write(Html html, Figures model)
    {
        HarmFigures[] told = [.. model.Harm.Where(harm => !harm.Year.IsUnknown)];
        if (told.Length > 0)
            Events(html, told);
        if (HarmWording.Key(model.Harm) is { Length: > 0 } key)
            html.Add($"""<p class="sub">{key}</p>""");
    }

    private static void Events(Html html, HarmFigures[] told)
    {
        var (before, first) = (told.Any(harm => harm.Before is not null), told[0]);
        TableColumn[] columns =
        [
            "Procedures with", TableColumn.Num($"This month, of {Wording.Number(first.Month.Procedures)}"),
            TableColumn.Num($"12 months, of {Wording.Number(first.Year.Procedures)}"),
            .. before ? new[] { TableColumn.Num($"12 months before, of {Wording.Number(first.Before!.Procedures)}") } : [],
            TableColumn.Num("Not recorded"),
        ];
        Table.Write(html, "t-harm", "Harm, in every procedure recorded", columns, () =>
        {
            foreach (var harm in told)
                Table.Row(html, columns,
                [
                    harm.Event, HarmWording.Count(harm.Month), HarmWording.Count(harm.Year),
                    .. before ? new[] { harm.Before is { } span ? HarmWording.Count(span) : "" } : [],
                    Wording.Number(harm.Year.Unknown),
                ]);
        }, "harm");
    }
}
