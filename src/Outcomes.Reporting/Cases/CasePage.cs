using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Cases;

/// <summary>One case on one sheet: what fired, what is known, what happened when, and room for what the meeting finds.</summary>
internal static class CasePage
{
    private static readonly string[] Heads = ["Patient", "Task", "Person", "Team", "Equipment", "Place", "Organisation", "Outside"];

    private static readonly string[] Dispositions = ["Teach", "Change the system", "Pass on", "Nothing more"];

    private static readonly TableColumn[] AttemptColumns =
    [
        "Attempt", "Plan", "With", "View", "Operator", "Outcome", TableColumn.Num("Lowest SpO2"), TableColumn.Num("Duration")
    ];

    public static void Write(Html html, CasePack pack, CaseView each)
    {
        html.Add(
            $"""<article class="case" id="case-{each.Id}" aria-labelledby="h-{each.Id}">{CasesPage.Stamp(pack)}"""
                + $"""<h2 id="h-{each.Id}">Case <span class="id">{each.Id}</span></h2>""");
        html.Add($"<p class=\"lead\">{CaseWording.Name(each.Kind)}: {CaseWording.Handling(each.Kind)}</p>");
        if (each.Late is { } late)
            html.Add($"<p class=\"note\">{CaseWording.Late(late)}</p>");
        Flags(html, each);
        if (each.Earlier is { } earlier)
            html.Add($"<p class=\"sub\">{CaseWording.Earlier(earlier)}</p>");
        Known(html, each);
        CaseTimeline.Write(html, each);
        Attempts(html, each);
        Standard(html, each);
        ToFillIn(html, each.Id);
        html.Add($"</article>\n");
    }

    private static void Flags(Html html, CaseView each)
    {
        html.Add($"<ul class=\"fired\">");
        if (each.Kind == CaseKind.Drawn)
            html.Add($"<li><strong>Drawn at random</strong> among the records without a flag.</li>");
        foreach (var flag in each.Flags.TakeWhile(flag => flag.Tier == each.Flags[0].Tier))
            html.Add($"<li><strong>{flag.Title}</strong> <code>{flag.Id}</code><span class=\"sub\">{Values(flag)}. {flag.Why}</span></li>");
        if (each.Flags.SkipWhile(flag => flag.Tier == each.Flags[0].Tier).ToArray() is { Length: > 0 } below)
        {
            html.Add($"<li class=\"below\"><span class=\"sub\">Below that tier: ");
            foreach (var (i, flag) in below.Index())
                html.Add($"{(i > 0 ? " · " : "")}{flag.Title} <code>{flag.Id}</code> ({Values(flag)})");
            html.Add($"</span></li>");
        }

        html.Add($"</ul>");
    }

    private static string Values(FiredFlag flag) => string.Join("; ", flag.Values.Select(fact => $"{fact.Title}: {fact.Value}"));

    private static void Known(Html html, CaseView each)
    {
        html.Add($"<h3>What is known</h3><div class=\"known\">");
        foreach (var group in each.Facts)
        {
            html.Add($"<div><h4>{group.Title}</h4>");
            Facts(html, group.Facts);
            html.Add($"</div>");
        }

        if (!each.Plans.IsEmpty)
        {
            html.Add($"<div><h4>Plan ladder</h4>");
            Facts(html, each.Plans);
            html.Add($"</div>");
        }

        html.Add($"</div>\n");
    }

    private static void Facts(Html html, ImmutableArray<CaseFact> facts)
    {
        html.Add($"<dl>");
        foreach (var fact in facts)
            html.Add($"<div><dt>{fact.Title}</dt><dd>{fact.Value}</dd></div>");
        html.Add($"</dl>");
    }

    private static void Attempts(Html html, CaseView each)
    {
        if (each.Attempts.IsEmpty)
            return;
        Table.Write(html, $"t-attempts-{each.Id}", "Attempts, by role and grade", AttemptColumns, () =>
        {
            foreach (var attempt in each.Attempts)
                Table.Row(html, AttemptColumns, attempt.Number, attempt.Plan, attempt.Means, attempt.View, attempt.Operator,
                    attempt.Outcome, attempt.Lowest, attempt.Duration);
        });
    }

    private static void Standard(Html html, CaseView each)
    {
        html.Add($"<div class=\"two\"><div><h3>What went well</h3>");
        Measures(html, each.Standards.WentWell, CaseWording.MoreMet(each.Standards).ToArray(), why: false);
        html.Add($"</div><div><h3>What the agreed standard expected</h3>");
        Measures(html, each.Standards.Expected, [.. Rest(each.Standards)], why: true);
        html.Add($"</div></div><p class=\"sub\">{CaseWording.StandardsRule}</p>\n");
    }

    // What is not recorded stands by itself: nobody can say that it was not met.
    private static IEnumerable<string> Rest(CaseStandards standards)
    {
        if (!standards.AlsoNotMet.IsEmpty)
            yield return $"Beside these: {string.Join("; ", standards.AlsoNotMet.Select(CaseWording.Title))}";
        foreach (var measure in standards.NotRecorded)
            yield return CaseWording.Title(measure);
    }

    private static void Measures(Html html, ImmutableArray<CaseMeasure> measures, string[] rest, bool why)
    {
        if (measures.IsEmpty && rest.Length == 0)
        {
            html.Add($"<p>Nothing that the measures could judge.</p>");
            return;
        }

        html.Add($"<ul>");
        foreach (var measure in measures)
        {
            html.Add($"<li>{CaseWording.Title(measure)}");
            if (why && measure.Measure.Why.Length > 0)
                html.Add($"<span class=\"sub\">{measure.Measure.Why}</span>");
            html.Add($"</li>");
        }

        foreach (var line in rest)
            html.Add($"<li>{line}</li>");
        html.Add($"</ul>");
    }

    private static void ToFillIn(Html html, string id)
    {
        html.Add($"<div class=\"meeting\"><h3>Case <span class=\"id\">{id}</span>, for the meeting to fill in</h3>");
        html.Add(
            $"""<table class="fill"><caption id="t-why-{id}">What contributed</caption>"""
                + $"""<thead><tr><th scope="col">Head</th><th scope="col">Helped</th><th scope="col">Hindered</th></tr></thead><tbody>""");
        foreach (var head in Heads)
            html.Add($"<tr><th scope=\"row\">{head}</th><td></td><td></td></tr>");
        html.Add($"</tbody></table>\n<p>Learning point</p><p class=\"lines\"></p><p class=\"lines\"></p>");
        html.Add(
            $"""<table class="fill"><caption>Actions</caption><thead><tr><th scope="col">What</th><th scope="col">Owner’s role</th>"""
                + $"""<th scope="col">Due</th><th scope="col">Measure</th></tr></thead><tbody>""");
        for (var row = 0; row < 3; row++)
            html.Add($"<tr><td></td><td></td><td></td><td></td></tr>");
        html.Add($"</tbody></table>");
        html.Add($"<p class=\"choices\">Disposition: ");
        foreach (var choice in Dispositions)
            html.Add($"<span><i class=\"tick\"></i>{choice}</span>");
        html.Add($"</p><p>Signed off (role, date)</p><p class=\"lines\"></p></div>\n");
    }
}
