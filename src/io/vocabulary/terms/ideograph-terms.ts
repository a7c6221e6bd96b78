import { foldText } from "../fold-text.js";
import type { Quantity } from "../quantities.js";
import { propertyIdeographs } from "./property-terms.js";

/**
 * Chinese (simplified and traditional) and Japanese trade terms (common practice), and Korean ones (from memory), whose
 * blanks are taken out. They stand without blanks, so they are looked for inside the header, the longest first.
 */
const terms: [Quantity, string][] = [
  [
    "temperature",
    "温度 溫度 試驗溫度 样品溫度 樣品溫度 试验温度 測試溫度 测试温度 試験温度 測定温度 样品温度 試料温度 实测温度 テスト温度 온도",
  ],
  [
    "set temperature",
    "设定温度 設定温度 設定溫度 目标温度 炉温 炉内温度 名义温度 目標温度 설정온도 목표온도",
  ],
  ["frequency", "频率 頻率 周波数 测试频率 試験周波数 測定周波数 振动频率 加振周波数 주파수 진동수"],
  ["angular frequency", "角频率 角頻率 角周波数 角振動数 圆频率 각주파수 각진동수"],
  ["time", "时间 時間 経過時間 测试时间 試験時間 시간 경과시간 시험시간"],
  [
    "storage modulus",
    "储能模量 儲能模量 儲存模數 儲能模數 儲存模量 儲存弾性率 贮存模量 贮能模量 存储模量 储存模量 貯蔵弾性率 貯蔵せん断弾性率 貯蔵剪断弾性率 貯蔵縦弾性率 貯蔵ヤング率 動的貯蔵弾性率 剪切储能模量 拉伸储能模量 貯蔵引張弾性率 貯藏弾性率 저장탄성률 저장탄성율 저장모듈러스 저장전단탄성률 동적저장탄성률",
  ],
  [
    "loss modulus",
    "损耗模量 損耗模量 損失模數 損耗模數 损失模數 损失模量 損失模量 耗能模量 損失弾性率 損失せん断弾性率 損失剪断弾性率 損失縦弾性率 損失ヤング率 動的損失弾性率 剪切损耗模量 拉伸损耗模量 損失引張弾性率 손실탄성률 손실탄성율 손실모듈러스 손실전단탄성률 동적손실탄성률",
  ],
  [
    "complex modulus",
    "复数模量 复合模量 複數模數 複合模數 動態模數 複數模量 複合模量 复模量 複素弾性率 複素せん断弾性率 複素ヤング率 动态模量 動的弾性率 絶対弾性率 복소탄성률 복소탄성율 복소전단탄성률 동적탄성률",
  ],
  [
    "tan delta",
    "损耗因子 損耗因子 損失因子 阻尼因數 損耗因數 损耗因数 损失因子 损耗角正切 損耗角正切 损耗正切 阻尼因子 損失正接 損失係数 損失正切 力学損失正接 力学损耗因子 タンデルタ 손실계수 손실탄젠트 손실정접",
  ],
  ["phase angle", "相位角 相角 位相角 位相差 损耗角 損耗角 損失角 滞后角 相位差 위상각 위상차"],
  [
    "strain amplitude",
    "应变振幅 应变幅值 应变 應變 動的ひずみ 动态应变 剪切应变 ひずみ振幅 せん断ひずみ ひずみ 歪み 歪 应变幅度 ひずみ量 歪み振幅 변형률진폭 동적변형률 전단변형률 변형률 변형율",
  ],
  ["storage compliance", "储能柔量 贮存柔量 貯蔵コンプライアンス"],
  ["loss compliance", "损耗柔量 損失コンプライアンス"],
  ["complex compliance", "复数柔量 复柔量 複素コンプライアンス"],
  ["displacement amplitude", "位移振幅 位移幅值 变位振幅 変位振幅 动态位移 動的変位 位移 変位"],
  ["double strain amplitude", "双应变幅 峰峰应变"],
  [
    "rebound resilience",
    "回弹率 回弹性 反彈率 反彈性 回彈性 反撥彈性 冲击回弹 衝擊回彈 回弹值 回弹 回彈率 回彈 冲击弹性 反発弾性率 反発弾性 反ぱつ弾性 リバウンド 反発率 回弹弹性 반발탄성률 반발탄성율 반발탄성",
  ],
  ["rebound height", "回弹高度 反弹高度 回彈高度 反発高さ 跳ね返り高さ はね返り高さ"],
  ["drop height", "下落高度 落下高度 落下高さ 跌落高度"],
  ["rebound angle", "回弹角度 回弹角 反弹角 反発角度 反発角 はね返り角度"],
  ["drop angle", "下落角度 下落角 落下角度 初始角度 落下角 振り上げ角度"],
  ["impact number", "冲击次数 打撃回数 打撃 冲击序号"],
  [
    "sample",
    "样品名称 样品编号 样品名 样品 试样名称 试样编号 试样 樣品名稱 樣品 試樣 胶料名称 胶料 配方 试料 試料名 試料 サンプル名 サンプル 試験片名 試験片 配合名 配合 コンパウンド ゴム種 시료명 시료이름 시료번호 시료 샘플명 샘플 시편명 시편 시험편 배합명 배합",
  ],
  ["name", "材料名称 材料名 材料 名称 名稱 名前 品名 재료명 재료 품명"],
  [
    "method",
    "测试方法 试验方法 方法 試験方法 测试标准 规格 標準 规范 標準方法 标准 试验标准 检测标准 检验标准 执行标准 标准号 方法标准 測試標準 試驗標準 試驗方法 測試方法 試験規格 規格 規格番号 準拠規格 測定方法 試験法",
  ],
  [
    "laboratory",
    "实验室 試驗室 試験室 试验室 實驗室 实验室名称 检测机构 試験所 試験機関 測定機関 実験室 ラボ",
  ],
  ["operator", "操作员 操作者 测试人员 测试员 试验员 測試人員 測定者 試験者 担当者"],
  ["date", "日期 测试日期 试验日期 測試日期 日付 試験日 測定日 試験日付"],
  ["batch", "批次 批号 批號 ロット ロット番号"],
  [
    "not used",
    "序号 编号 番号 备注 備註 備考 载荷 荷重 力 静态力 动态力 应力 応力 粘度 复数粘度 標準偏差 标准差 标准偏差 平均值 平均値 平均 中位数 中央値 厚度 厚さ 静态应变 静ひずみ 升温速率 昇温速度 降温速率 注释 コメント 点 步骤 阶段 비고 번호 순번 표준편차 평균 하중 응력 두께",
  ],
];

/** Longest first, so that 角周波数 is not read as 周波数. */
export const ideographTerms: [term: string, quantity: Quantity][] = [...terms, ...propertyIdeographs]
  .flatMap(([quantity, list]) =>
    list.split(" ").map((term): [string, Quantity] => [foldText(term), quantity]),
  )
  .sort(([a], [b]) => b.length - a.length);
