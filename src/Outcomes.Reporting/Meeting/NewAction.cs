using Outcomes.Analysis;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Meeting;

/// <summary>The part of a slide in which actions are decided: a list that the script fills, and lines to write on for paper.</summary>
internal static class NewAction
{
    private const int PaperRows = 3;

    /// <param name="html">The page.</param>
    /// <param name="of">The case that the actions come from, or <c>general</c>.</param>
    public static void Box(Html html, string of)
    {
        html.Add($"""
            <h3>Actions</h3><div class="new-actions" data-of="{of}"></div>
            <p class="needs-script" hidden><button type="button" class="add-action" data-of="{of}">Add an action</button></p>
            <table class="fill paper"><caption>Actions, on paper</caption><thead><tr><th scope="col">What</th><th scope="col">Owner’s role</th><th scope="col">Due</th><th scope="col">Measure that should move, and by when</th></tr></thead><tbody>

            """);
        for (var row = 0; row < PaperRows; row++)
            html.Add($"<tr><td></td><td></td><td></td><td></td></tr>");
        html.Add($"</tbody></table>\n");
    }

    /// <summary>What the script copies for each new action.</summary>
    public static void Template(Html html, Figures figures)
    {
        html.Add($"""
            <template id="action"><fieldset class="action"><legend tabindex="-1"></legend>
            <p class="field wide"><label>What is to be done <input type="text" data-action="what" autocomplete="off"></label></p>
            <p class="field"><label>Owner’s role <input type="text" data-action="owner" autocomplete="off"></label></p>
            <p class="field"><label>Due <input type="date" data-action="due"></label></p>
            <p class="field"><label>Measure that should move <select data-action="measure"><option value=""></option>
            """);
        foreach (var each in figures.Measures.Where(each => each.NotCollected is null))
            html.Add($"""<option value="{each.Measure.Id}">{each.Measure.Title}</option>""");
        html.Add($"""
            </select></label></p>
            <p class="field"><label>Moved by <input type="date" data-action="measure_by"></label></p>
            <p><button type="button" class="remove">Remove</button></p></fieldset></template>

            """);
    }
}
