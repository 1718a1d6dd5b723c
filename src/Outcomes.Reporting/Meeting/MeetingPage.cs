using System.Text;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Cases;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>What a meeting's page is made from.</summary>
/// <param name="Pack">The cases of the month.</param>
/// <param name="Figures">The figures of the month, with the actions.</param>
/// <param name="Agenda">What is discussed, and for how long.</param>
public sealed record MeetingContent(CasePack Pack, Figures Figures, MeetingAgenda Agenda)
{
    /// <summary>The cases with a page, those on the agenda first.</summary>
    internal IEnumerable<ReviewCase> Discussed => Agenda.Items.SelectMany(item => item.Cases).Concat(Agenda.NotDiscussed)
        .Select(id => Pack.Cases.First(each => each.Id == id));
}

/// <summary>
/// The review meeting as one page: slides with a script, one long page without, a handout on paper. It works without a network, and what
/// the meeting enters leaves it as a file alone.
/// </summary>
public static class MeetingPage
{
    /// <exception cref="Failure">The cases are not for the department (exit 3).</exception>
    public static byte[] Utf8(MeetingContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        if (content.Pack.Audience != Audience.Department)
            throw new Failure(ExitCode.Definition, "cases are for the department alone; set audience: department");
        var title = $"Review meeting, {Wording.Name(content.Pack.Month)}";
        var style = EmbeddedFile.Text("report.css") + EmbeddedFile.Text("cases.css") + EmbeddedFile.Text("meeting.css");
        return Encoding.UTF8.GetBytes(new PageShell($"Confidential · {title} · {content.Pack.PipelineName}", style)
        {
            IsConfidential = true,
            SkipsTo = "agenda",
            Script = EmbeddedFile.Text("meeting.js"),
        }.Write(html => Body(html, title, content)));
    }

    private static void Body(Html html, string title, MeetingContent content)
    {
        var pack = content.Pack;
        html.Add($"""
            <header class="masthead">{CasesPage.Stamp(pack)}<h1>{title}</h1><p class="lead">{pack.PipelineName} · as known on {Wording.Date(content.Figures.AsOf)}</p></header>
            <nav id="bar" class="bar" aria-label="Slides" hidden><button type="button" id="previous">Previous</button> <span id="position" role="status"></span> <button type="button" id="next">Next</button> <button type="button" id="mode" aria-pressed="true">One slide at a time</button> <span class="hint">Arrow keys turn slides</span></nav>
            <main id="main" data-pipeline="{pack.PipelineName}" data-month="{pack.Month.ToString()}">

            """);
        AgendaSlide.Write(html, content);
        FiguresSlide.Write(html, content.Figures);
        ActionsSlide.Write(html, content.Figures);
        foreach (var each in content.Discussed)
        {
            CaseSlide.Write(html, content, each);
            FillSlide.Write(html, content, each);
        }

        CloseSlide.Write(html);
        html.Add($"</main>");
        NewAction.Template(html, content.Figures);
        html.Add($"<footer>{CasesPage.Stamp(pack)}<p>Outcomes {pack.Version}.</p></footer>");
    }

    /// <summary>Opens a slide with its heading.</summary>
    internal static void Open(Html html, string id, string title, string style = "") =>
        html.Add($"""<section class="slide {style}" id="{id}" aria-labelledby="h-{id}"><h2 id="h-{id}" tabindex="-1">{title}</h2>""");

    internal static void Close(Html html) => html.Add($"</section>\n");

    /// <summary>What a case is called wherever it has a heading.</summary>
    internal static string Name(ReviewCase each) => $"Case {each.Id} · {CaseWording.Name(each.Kind)}";
}
