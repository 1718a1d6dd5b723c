using System.Text;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Form;

/// <summary>
/// The form on paper for one procedure, from the same plan and dictionary: the core fields first, with their answers. Of the others two
/// sides of A4 hold those that fit; where a department chose its fields they are all asked for, on as many sides as they need.
/// </summary>
public static class PaperForm
{
    /// <summary>Attempts that the second side has rows for; more go on a second sheet with the same record code.</summary>
    private const int Rows = 4;

    /// <summary>Columns that fit beside each other; more stand in a further table.</summary>
    private const int Columns = 8;

    public static byte[] Utf8(FormPlan plan) => Encoding.UTF8.GetBytes(Html(plan));

    public static string Html(FormPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return new PageShell("Airway procedure form on paper", EmbeddedFile.Text("paper.css")).Write(html => Body(html, plan));
    }

    private static void Body(Html html, FormPlan plan)
    {
        html.Add($"""
            <main>
            <section class="side"><h1>Airway procedure: core</h1>
            <p class="caution"><strong>{FormPage.Caution}</strong> No names, dates of birth or hospital numbers. A blank is not a no: write NR for not recorded, UK for unknown, NA where the question does not arise.</p>

            """);
        Fields(html, plan, FormPlan.IsAlwaysAsked);
        html.Add($"""
            </section>
            <section class="side"><h1>Airway procedure: attempts and practice</h1>
            <p class="line"><b>Record</b><span class="write"></span></p>

            """);
        foreach (var (at, columns) in plan.PaperAttempts.Chunk(Columns).Index())
            Attempts(html, at == 0
                ? "Attempts in order, rescue included; what does not fit goes on a second sheet with the same record code"
                : "More about the same attempts", columns);
        html.Add($"""<p class="key">""");
        foreach (var field in plan.PaperAttempts.Where(field => !field.Allowed.IsEmpty))
            html.Add($"""<b>{field.Title}:</b> {string.Join(", ", field.Allowed.Select(field.TitleOf))}. """);
        html.Add($"</p>\n");
        Fields(html, plan, plan.PaperFields.Contains);
        html.Add($"</section>\n</main>\n");
    }

    private static void Attempts(Html html, string caption, IReadOnlyCollection<Field> columns)
    {
        html.Add($"""<table><caption>{caption}</caption><thead><tr><th scope="col">No.</th>""");
        foreach (var field in columns) html.Add($"""<th scope="col">{FormControls.Label(field)}</th>""");
        html.Add($"</tr></thead><tbody>");
        for (var row = 1; row <= Rows; row++)
        {
            html.Add($"""<tr><th scope="row">{row.ToString(System.Globalization.CultureInfo.InvariantCulture)}</th>""");
            foreach (var _ in columns) html.Add($"<td></td>");
            html.Add($"</tr>");
        }

        html.Add($"</tbody></table>\n");
    }

    private static void Fields(Html html, FormPlan plan, Func<Field, bool> which)
    {
        foreach (var stage in plan.Stages.Where(stage => stage.Fields.Any(which)))
        {
            html.Add($"""<h2>{stage.Title}</h2><div class="fields">""");
            foreach (var field in stage.Fields.Where(which))
            {
                html.Add($"""<p class="line"><b>{FormControls.Label(field)}</b>""");
                var choices = field.Type == FieldType.YesNo ? ["yes", "no"] : field.Allowed;
                if (choices.IsEmpty) html.Add($"""<span class="write"></span>""");
                foreach (var value in choices) html.Add($""" <span class="box"><i></i>{field.TitleOf(value)}</span>""");
                html.Add($"</p>");
            }

            html.Add($"</div>\n");
        }
    }
}
