using System.CommandLine;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Run;
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
        var pipeline = new Argument<string?>("PIPELINE") { Description = "A pipeline whose own fields and rules the form takes; without it the shipped ones.", Arity = ArgumentArity.ZeroOrOne };
        var page = new Option<string>("--out") { Description = "Where the form goes: one page that works without a network.", DefaultValueFactory = _ => "form.html", HelpName = "FILE.html" };
        var mapping = new Option<string>("--mapping") { Description = "Where the mapping goes that reads what the form saves.", HelpName = "FILE.yaml" };
        var paper = new Option<string>("--paper") { Description = "Where the form for paper goes: two sides of A4.", HelpName = "FILE.html" };
        var command = new Command("form", "Writes a form for entering procedures: one page, no network, checks as entered, saves a file that `run` takes.") { pipeline, page, paper, mapping };
        command.SetAction(parsed => (int)Execute(parsed.GetValue(pipeline), parsed.GetRequiredValue(page), parsed.GetValue(paper), parsed.GetValue(mapping)));
        return command;
    }

    private static ExitCode Execute(string? pipeline, string page, string? paper, string? mapping)
    {
        var catalogue = pipeline is null ? null : Catalogue.Of(PipelineFile.Read(pipeline, new Dictionary<string, string>()));
        var dictionary = catalogue?.Dictionary ?? FieldDictionary.Shipped;
        var plan = FormPlan.For(dictionary);
        var rules = RuleTrees.Of(dictionary, DerivedFile.Shipped, catalogue?.Rules ?? RuleFile.Shipped, plan.Names().Contains);
        File.WriteAllBytes(page, FormPage.Utf8(plan, rules));
        Console.Out.WriteLine($"{page}: the form. Open it in a browser; it saves a file that a run takes.");
        if (paper is not null)
        {
            File.WriteAllBytes(paper, PaperForm.Utf8(plan));
            Console.Out.WriteLine($"{paper}: the form on paper, two sides of A4; print it from a browser.");
        }

        if (mapping is not null)
        {
            File.WriteAllText(mapping, FormMapping.Text(plan));
            Console.Out.WriteLine($"{mapping}: the mapping that reads what the form saves.");
        }

        Console.Out.WriteLine(Tool.Caution);
        return ExitCode.Done;
    }
}
