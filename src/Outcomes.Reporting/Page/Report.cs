using System.Collections.Immutable;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>
/// The monthly report: a few sides of A4 that are read from first to last. One self-contained HTML page, no scripts, no request to
/// anywhere; what is looked up stands in the <see cref="Appendix"/>.
/// </summary>
public static class Report
{
    /// <summary>Its file.</summary>
    public const string File = "report.html";

    /// <summary>The page. Without charts (<c>--charts none</c>) the tables stand alone.</summary>
    public static string Html(Figures model, ImmutableArray<Chart> charts)
    {
        Refuse(model);
        var title = $"Airway outcomes, {Wording.Name(model.Month)}";
        return PageShell.OfReport($"{title} · {model.PipelineName}", Foot(model.Audience, model.Invented))
            .Write(html => Body(html, title, model, charts));
    }

    /// <summary>The page as it is written to a file.</summary>
    public static byte[] Utf8(Figures model, ImmutableArray<Chart> charts) => Encoding.UTF8.GetBytes(Html(model, charts));

    /// <summary>Every printed page says for whom it is.</summary>
    internal static string Foot(Audience audience, bool invented) => Wording.Audience(audience) + (invented ? " · invented data" : "");

    /// <summary>Small numbers are shown as they are; what others may see is made from a release and nothing else.</summary>
    internal static void Refuse(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        if (model.Audience != Audience.Department)
            throw new Failure(ExitCode.Definition, "This page shows small numbers and is for the department alone, "
                + $"not for {Wording.Audience(model.Audience)}; set audience: department.");
    }

    private static void Body(Html html, string title, Figures model, ImmutableArray<Chart> charts)
    {
        var sides = Side.All(model, charts).ToArray();
        Masthead.Write(html, model, title, [.. sides.Select(side => ($"#{side.Id}", side.Title)), (Appendix.File, "Appendix")]);
        html.Add($"""<main id="main">""");
        foreach (var side in sides)
        {
            html.Add($"""<section class="side" aria-labelledby="{side.Id}"><h2 id="{side.Id}">{side.Title}</h2>""");
            side.Write(html);
            html.Add($"</section>\n");
        }

        html.Add($"</main><footer><p>Outcomes {model.Version}. Definitions SHA-256 <code>{model.DefinitionsHash}</code>.</p></footer>\n");
    }
}
