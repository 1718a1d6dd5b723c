using System.Globalization;
using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>How many records have a trace, and how much of it can be judged: nothing where the pipeline has no traces.</summary>
internal static class TracesParagraph
{
    private static readonly TableColumn[] Columns =
    [
        "Signal", TableColumn.Num("Judged"), TableColumn.Num("Low coverage"), TableColumn.Num("Too sparse"), TableColumn.Num("No samples"),
        TableColumn.Num("Median coverage"),
    ];

    public static void Write(Html html, Figures model)
    {
        if (model.Traces is not { } traces) return;
        html.Add($"<h3>Monitor traces</h3><p>{Said(traces)} Records with a trace are seldom a fair sample of all: "
            + $"figures that need one are of those alone.</p>");
        if (traces.WithTrace == 0) return;
        Table.Write(html, "t-traces", "What the traces of the last 12 months can be judged for", Columns, () =>
        {
            foreach (var signal in traces.Signals)
                Table.Row(html, Columns, signal.Title, Wording.Number(signal.Sufficient), Wording.Number(signal.LowCoverage),
                    Wording.Number(signal.TooSparse), Wording.Number(signal.NoSamples), signal.MedianCoverage is { } coverage
                        ? $"{coverage.ToString("0", CultureInfo.InvariantCulture)}{Wording.Space}%"
                        : "");
        });
    }

    /// <summary>One sentence.</summary>
    public static string Said(TraceFigures traces) =>
        $"{Wording.Number(traces.WithTrace)} of {Wording.Number(traces.Records)} records of the last 12 months have a monitor trace.";
}
