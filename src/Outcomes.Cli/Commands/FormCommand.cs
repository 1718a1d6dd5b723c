using System.CommandLine;
using System.Globalization;
using System.Text;
using Outcomes.Cli.Definitions;
using Outcomes.Cli.Output;
using Outcomes.Cli.Places;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Form;

namespace Outcomes.Cli.Commands;

/// <summary>
/// <c>outcomes form</c>: one page for entering procedures, on screen or on paper, and the mapping that reads what it saves.
/// </summary>
internal static class FormCommand
{
    public static Command Create()
    {
        var pipeline = new Argument<string?>("PIPELINE")
        {
            Description = "A pipeline whose own fields, choice of fields (`form:`) and rules the form takes; without it the shipped ones.",
            Arity = ArgumentArity.ZeroOrOne
        };
        var page = new Option<string>("--out")
        {
            Description = "Where the form goes: one page that works without a network. No file is ever overwritten.",
            DefaultValueFactory = _ => "form.html",
            HelpName = "FILE.html"
        };
        var mapping = new Option<string>("--mapping")
        {
            Description = "Where the mapping goes that reads what the form saves.",
            HelpName = "FILE.yaml"
        };
        var paper = new Option<string>("--paper")
        {
            Description = "Where the form for paper goes: A4, two sides unless the department asks for more than fits.",
            HelpName = "FILE.html"
        };
        var command = new Command("form",
            "Writes a form for entering procedures: one page, no network, checks as entered, saves a file that `run` takes.")
        {
            pipeline, page, paper, mapping
        };
        command.SetAction(parsed => (int)Execute(parsed.GetValue(pipeline), parsed.GetRequiredValue(page), parsed.GetValue(paper),
            parsed.GetValue(mapping)));
        return command;
    }

    private static ExitCode Execute(string? pipeline, string page, string? paper, string? mapping)
    {
        // The mapping of a source may be the very file that is to be written.
        var read = pipeline is null ? null : PipelineFile.Read(pipeline, new Dictionary<string, string>(), withSources: false);
        var catalogue = read is null ? null : DefinitionFiles.Load(read);
        var dictionary = catalogue?.Dictionary ?? FieldDictionary.Shipped;
        var plan = read?.Form?.Plan(dictionary) ?? FormPlan.For(dictionary);
        var rules = RuleTrees.Of(dictionary, catalogue?.Derived ?? DerivedFile.Shipped,
            catalogue?.Rules ?? RuleFile.Shipped, plan.Names().Contains);
        var files = new List<(NewFile File, string Said)>
        {
            (new NewFile("--out", page, FormPage.Utf8(plan, rules)),
                $"the form: {Number(plan.Stages.Sum(stage => stage.Fields.Length))} fields of a procedure, {Number(plan.Attempts.Length)} "
                    + $"of an attempt. Open it in a browser; it saves a file that a run takes.")
        };
        if (paper is not null)
            files.Add((new NewFile("--paper", paper, PaperForm.Utf8(plan)), "the form on paper, for A4; print it from a browser."));
        if (mapping is not null)
            files.Add((new NewFile("--mapping", mapping, Encoding.UTF8.GetBytes(FormMapping.Text(plan))),
                "the mapping that reads what the form saves."));
        NewFile.Write([.. files.Select(file => file.File)]);
        foreach (var (file, said) in files) Console.Out.WriteLine($"{file.Path}: {said}");
        Console.Out.WriteLine(Tool.Caution);
        return ExitCode.Done;
    }

    private static string Number(int count) => count.ToString(CultureInfo.InvariantCulture);
}
