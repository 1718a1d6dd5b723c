using System.CommandLine;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Form;

namespace Outcomes.Cli.Commands;

/// <summary><c>outcomes form</c>: one page for entering procedures, on screen or on paper, and the mapping that reads what it saves.</summary>
internal static class FormCommand
{
    public static Command Create()
    {
        var page = new Option<string>("--out") { Description = "Where the form goes: one page that works without a network.", DefaultValueFactory = _ => "form.html", HelpName = "FILE.html" };
        var mapping = new Option<string>("--mapping") { Description = "Where the mapping goes that reads what the form saves.", HelpName = "FILE.yaml" };
        var paper = new Option<string>("--paper") { Description = "Where the form for paper goes: two sides of A4.", HelpName = "FILE.html" };
        var command = new Command("form", "Writes a form for entering procedures: one page, no network, checks as entered, saves a file that `run` takes.") { page, paper, mapping };
        command.SetAction(parsed => (int)Execute(parsed.GetRequiredValue(page), parsed.GetValue(paper), parsed.GetValue(mapping)));
        return command;
    }

    private static ExitCode Execute(string page, string? paper, string? mapping)
    {
        File.WriteAllBytes(page, FormPage.Utf8(FormPlan.Shipped, RuleTrees.Of(FieldDictionary.Shipped, DerivedFile.Shipped, RuleFile.Shipped, FormPlan.Shipped.Names().Contains)));
        Console.Out.WriteLine($"{page}: the form. Open it in a browser; it saves a file that a run takes.");
        if (paper is not null)
        {
            File.WriteAllBytes(paper, PaperForm.Utf8(FormPlan.Shipped));
            Console.Out.WriteLine($"{paper}: the form on paper, two sides of A4; print it from a browser.");
        }

        if (mapping is not null)
        {
            using var stream = typeof(FormCommand).Assembly.GetManifestResourceStream("mappings/form.yaml") ?? throw new InvalidOperationException("mappings/form.yaml is not in the assembly.");
            using var file = File.Create(mapping);
            stream.CopyTo(file);
            Console.Out.WriteLine($"{mapping}: the mapping that reads what the form saves.");
        }

        Console.Out.WriteLine(Tool.Caution);
        return ExitCode.Done;
    }
}
