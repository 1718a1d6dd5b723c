using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>What one may take away from an answer, and the form that saves the question beside the pipeline.</summary>
internal static class TakeAway
{
    private static readonly (string Path, string Title)[] Files =
    [
        ("/answer.svg", "Figure (SVG)"), ("/answer.png", "Figure (PNG)"), ("/answer.csv", "Table (CSV)"), ("/answer.json", "JSON"),
        ("/snapshot.html", "Snapshot (one HTML file)"),
    ];

    public static void Write(Html html, AnswerView view, string token)
    {
        var query = QuestionText.Query(view.Answer.Asked.Settled);
        html.Add($"""<section aria-labelledby="take"><h2 id="take">Take away</h2><ul class="take">""");
        foreach (var (path, title) in Files)
            html.Add($"""<li><a href="{path}?{query}" download>{title}</a></li>""");
        html.Add($"""<li><a href="/?{query}">Permanent link within the pipeline</a></li></ul>""");
        html.Add($"""<form method="post" action="/save" class="save"><input type="hidden" name="token" value="{token}">"""
            + $"""<input type="hidden" name="question" value="{query}">"""
            + $"""<label for="name">Save this question beside the pipeline as</label> """
            + $"""<input id="name" name="name" required maxlength="60" pattern="[A-Za-z0-9_ \-]+" autocomplete="off"> """
            + $"""<button>Save the question</button><span class="sub">Letters, digits, spaces, _ and - make the file’s name in """
            + $"""<code>questions/</code>. {AnswerWording.Saved}</span></form></section>""");
    }
}
