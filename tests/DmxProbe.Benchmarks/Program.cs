using DmxProbe.Benchmarks;
using DmxProbe.Benchmarks.Ask;
using DmxProbe.Benchmarks.Live;

Dictionary<string, Func<string[], int>> commands = new(StringComparer.Ordinal)
{
    ["make-captures"] = MakeCaptures.Run,
    ["make-compared"] = MakeCompared.Run,
    ["benchmark-capture"] = WriteBenchmarkCapture.Run,
    ["who-wins"] = WhoWinsTable.Run,
    ["survey-speed"] = SurveySpeed.Run,
    ["survey-parts"] = SurveyParts.Run,
    ["line-speed"] = LineSpeed.Run,
    ["locate-table"] = LocateTable.Run,
    ["diagnose-speed"] = DiagnoseSpeed.Run,
    ["diagnose-table"] = DiagnoseTable.Run,
    ["ask-table"] = AskTable.Run,
    ["locate-speed"] = LocateSpeed.Run,
    ["locate-recall"] = LocateRecall.Run,
    ["locate-rows"] = LocateRows.Run,
    ["locate-calibrate"] = LocateCalibrate.Run,
    ["harbour-clip"] = HarbourClip.Run,
    ["seek-table"] = SeekTable.Run,
    ["pack-table"] = PackTable.Run,
    ["record-kill"] = RecordKill.Run,
    ["record-load"] = RecordLoad.Run,
    ["live-load"] = LiveLoad.Run,
    ["send-load"] = SendLoad.Run,
    ["listen-levels"] = ListenLevels.Run,
    ["send-noise"] = SendNoise.Run,
};

if (args.Length == 0 || !commands.TryGetValue(args[0], out Func<string[], int>? command))
{
    Console.Error.WriteLine("name one of: " + string.Join(", ", commands.Keys));
    return 2;
}

return command(args[1..]);
