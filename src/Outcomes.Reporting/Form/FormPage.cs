using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Form;

/// <summary>
/// The form as one HTML page that works without a network: entries stay in the page until a person saves them as a file, and
/// its policy forbids the page to ask anything of anywhere.
/// </summary>
public static class FormPage
{
    public const string Caution =
        "For audit and improvement only. Not a medical record and no bedside advice; local policy and licensed practice come first.";

    /// <param name="plan">What is asked, when.</param>
    /// <param name="rules">The consistency rules that one record can settle, as <c>RuleTrees</c> writes them.</param>
    public static byte[] Utf8(FormPlan plan, JsonArray rules) => Encoding.UTF8.GetBytes(Html(plan, rules));

    public static string Html(FormPlan plan, JsonArray rules)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return new PageShell("Airway procedure form", EmbeddedFile.Text("form.css"))
        {
            Script = EmbeddedFile.Text("rules.js") + EmbeddedFile.Text("form.js"),
        }.Write(html => Body(html, plan, rules));
    }

    private static void Body(Html html, FormPlan plan, JsonArray rules)
    {
        html.Add($"""
            <header>
            <h1>Airway procedure form</h1>
            <p class="caution"><strong>{Caution}</strong> No names, dates of birth or hospital numbers, of patients or of staff. What you enter stays in this page until you save it as a file; the page sends nothing anywhere and forgets everything when it is closed.</p>
            <noscript><p class="caution"><strong>This page needs scripts to check and save.</strong> Without them use the paper form, which <code>outcomes form --paper FILE.html</code> writes.</p></noscript>
            <p>A blank answer is not a no: it says that nobody answered. Fields marked core are those that most measures need. Each procedure is checked when you keep it; a run checks more, such as whether front-of-neck access came with a declaration.</p>
            </header>
            <main>
            <div id="summary" class="summary" tabindex="-1" aria-labelledby="summary-title" role="group" hidden><h2 id="summary-title"></h2><ul id="summary-list"></ul><button type="button" id="keep-anyway" hidden>Keep it all the same</button></div>
            <p id="status" role="status"></p>
            <form id="form" autocomplete="off" novalidate>

            """);
        foreach (var stage in plan.Stages) Stage(html, plan, stage);
        html.Add($"""
            <div class="actions"><button type="submit" id="keep">Keep this procedure</button> <button type="reset" id="clear">Clear the form</button></div>
            </form>
            <section aria-labelledby="kept-title"><h2 id="kept-title" tabindex="-1">Kept in this page</h2>
            <p id="kept-none">Nothing yet.</p><ul id="kept"></ul>
            <div class="actions"><button type="button" id="save-csv" disabled>Save as CSV</button> <button type="button" id="save-json" disabled>Save as JSON</button></div>
            </section>
            </main>
            <template id="attempt"><fieldset class="attempt" id="attempt#"><legend tabindex="-1" id="attempt#-title">Attempt #</legend>

            """);
        Grouped(html, plan, plan.Attempts, plan.AttemptsChosen, name => "attempt#_" + name);
        html.Add($"""
            <button type="button" class="remove">Remove attempt #</button></fieldset></template>
            <script type="application/json" id="dictionary">{new Markup(FormData.Json(plan, rules))}</script>

            """);
    }

    private static void Stage(Html html, FormPlan plan, FormStage stage)
    {
        html.Add($"""<fieldset class="stage" id="{stage.Id}"><legend><h2>{stage.Title}</h2></legend>""");
        html.Add($"\n");
        if (stage.Id == "airway")
            html.Add($"""
                <div id="attempts"></div>
                <p><button type="button" id="add-attempt">Add an attempt</button> <span class="hint">One row an attempt, rescue included, in order.</span></p>

                """);
        Grouped(html, plan, stage.Fields, plan.FieldsChosen, name => name);
        html.Add($"</fieldset>\n");
    }

    // What the department chose, its own fields among it, is not folded away.
    private static void Grouped(Html html, FormPlan plan, IReadOnlyCollection<Field> fields, bool chosen, Func<string, string> id)
    {
        bool Open(Field field) => chosen || FormPlan.IsAlwaysAsked(field) || plan.Own.Contains(field);
        // The plan ladder stands together, core or not: its steps are asked one after the other.
        var rest = fields.Where(field => !Open(field)).ToArray();
        foreach (var field in fields.Where(Open))
        {
            FormControls.Write(html, field, id(field.Name));
            if (field.Name == "plan_a")
                html.Add(
                    $"""<p class="field" id="ladder-on-field"><label class="tick"><input type="checkbox" id="ladder-on">"""
                        + $""" A further plan was used although one had succeeded, """
                        + $"""or the ladder was not climbed in order: ask for all</label></p>""");
        }

        if (rest.Length == 0) return;
        var more = rest.Length == 1
            ? "1 more field, if your department collects it"
            : string.Create(CultureInfo.InvariantCulture, $"{rest.Length} more fields, if your department collects them");
        html.Add($"<details><summary>{more}</summary>\n");
        foreach (var field in rest) FormControls.Write(html, field, id(field.Name));
        html.Add($"</details>\n");
    }
}
